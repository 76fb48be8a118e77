//! The program as a maker runs it: exit codes, messages, what lies on the disk afterwards.

mod again;
mod bad;
mod disk;
mod help;
mod new;
mod steady;
mod stop_key;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::{Command, Output};
use tempfile::TempDir;

/// One loose panel: the quickest project that goes all the way.
pub(crate) const PLATE: &str = "\
format = 1
title = \"Plate\"
units = \"mm\"
[boards.ply]
profile = \"birch-ply-12\"
readings = [11.9, 11.9, 12.0, 11.9]
[[panel]]
name = \"plate\"
size = [300, 200]
board = \"ply\"
holes = [{ at = [40, 40], for = \"M6\" }]
";

/// One drawer in a carcass; `{}` stands where the drawer is written.
pub(crate) const DRAWER: &str = "\
format = 1
title = \"One drawer\"
units = \"mm\"
[boards.ply]
profile = \"birch-ply-12\"
readings = [11.9, 11.9, 11.9, 11.9]
[[carcass]]
name = \"box\"
at = [0, 0, 0]
width = 480
depth = 520
height = 200
board = \"ply\"
[[carcass.column]]
name = \"left\"
[[carcass.column.cell]]
drawer = { {} }
";

/// How a run ended.
pub(crate) struct Ended {
    pub(crate) code: Option<i32>,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Ended {
    pub(crate) fn of(output: &Output) -> Self {
        let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("UTF-8");
        Self { code: output.status.code(), out: text(&output.stdout), err: text(&output.stderr) }
    }

    /// Asserts the exit code and that every word is somewhere in what was printed.
    #[track_caller]
    pub(crate) fn expect(self, code: i32, words: &[&str]) -> Self {
        assert_eq!(self.code, Some(code), "exit code\n{}\n{}", self.out, self.err);
        for word in words {
            assert!(self.out.contains(word) || self.err.contains(word), "no {word:?} in\n{}\n{}", self.out, self.err);
        }
        assert!(!self.err.contains("panicked"), "{}", self.err);
        self
    }

    #[track_caller]
    pub(crate) fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.out).unwrap_or_else(|e| panic!("{e} in\n{}", self.out))
    }
}

/// A folder with a project file to run the program in.
pub(crate) struct Bench(TempDir);

impl Bench {
    pub(crate) fn new() -> Self {
        Self(tempfile::tempdir().expect("a temporary folder"))
    }

    pub(crate) fn with(name: &str, text: &str) -> Self {
        let bench = Self::new();
        bench.write(name, text);
        bench
    }

    pub(crate) fn path(&self) -> &Path {
        self.0.path()
    }

    pub(crate) fn write(&self, name: &str, text: &str) {
        let path = self.path().join(name);
        fs::create_dir_all(path.parent().expect("inside")).expect("make the folder");
        fs::write(path, text).expect("write");
    }

    pub(crate) fn command(&self) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_baywright"));
        command.current_dir(self.path()).env_remove("BAYWRIGHT_PROFILES").env_remove("NO_COLOR");
        command
    }

    pub(crate) fn run(&self, args: &[&str]) -> Ended {
        Ended::of(&self.command().args(args).output().expect("start the program"))
    }

    /// Every file below the folder with its bytes, and every folder, by path.
    pub(crate) fn all(&self) -> BTreeMap<String, Option<Vec<u8>>> {
        tree(self.path())
    }
}

/// A pack's own files on the disk: without its coupons, which are packs of their own, and without what a proof adds.
pub(crate) fn own_files(pack: &Path) -> BTreeMap<String, Vec<u8>> {
    let own = tree(pack).into_iter().filter(|(name, _)| !name.starts_with("coupon/") && !name.starts_with("proof."));
    own.filter_map(|(name, bytes)| Some((name, bytes?))).collect()
}

/// Every file (with its bytes) and folder below a place.
pub(crate) fn tree(root: &Path) -> BTreeMap<String, Option<Vec<u8>>> {
    let mut found = BTreeMap::new();
    let mut open = vec![root.to_path_buf()];
    while let Some(folder) = open.pop() {
        for entry in fs::read_dir(&folder).expect("read the folder") {
            let path = entry.expect("an entry").path();
            let name = path.strip_prefix(root).expect("inside").to_string_lossy().replace('\\', "/");
            if path.is_dir() {
                found.insert(name, None);
                open.push(path);
            } else {
                found.insert(name, Some(fs::read(&path).expect("read")));
            }
        }
    }
    found
}

/// A sample's path.
pub(crate) fn sample(name: &str) -> String {
    format!("{}/samples/{name}.toml", env!("CARGO_MANIFEST_DIR"))
}
