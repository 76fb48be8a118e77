//! The disk: reading the maker's files, and releasing a pack all or nothing.

use super::Trouble;
use crate::diag::{FileId, Texts};
use crate::write::Files;
use std::collections::BTreeMap;
use std::fs::{self, OpenOptions};
use std::io::{self, Write as _};
use std::path::{Component, Path, PathBuf};

/// A text file larger than this is not a project or a profile.
const LARGEST_TEXT: u64 = 4 << 20;
/// A pack file larger than this is not one of ours.
const LARGEST_PACK_FILE: u64 = 256 << 20;

/// Reads a text file under the name the maker gave it.
pub(super) fn read_text(texts: &mut Texts, path: &Path) -> Result<FileId, Trouble> {
    let meta = fs::metadata(path).map_err(|e| Trouble::file("read", path, &e))?;
    if meta.is_dir() {
        return Err(Trouble::new(format!("{} is a folder", path.display()), "name the project file inside it"));
    }
    if meta.len() > LARGEST_TEXT {
        return Err(Trouble::new(
            format!("{} is {} MB large; a project or profile is a short text", path.display(), meta.len() >> 20),
            "check the name",
        ));
    }
    let text = fs::read_to_string(path).map_err(|e| Trouble::file("read", path, &e))?;
    Ok(texts.add(path.display().to_string(), text))
}

/// Whether two paths lead to the same file.
pub(super) fn same_file(a: &Path, b: &Path) -> bool {
    matches!((fs::canonicalize(a), fs::canonicalize(b)), (Ok(a), Ok(b)) if a == b)
}

/// Writes a new file as a whole, or not at all.
pub(super) fn write_new(path: &Path, text: &str) -> Result<(), Trouble> {
    let mut file =
        OpenOptions::new().write(true).create_new(true).open(path).map_err(|e| Trouble::file("write", path, &e))?;
    file.write_all(text.as_bytes()).map_err(|e| {
        // What was begun is ours: it did not exist a moment ago.
        let _ = fs::remove_file(path);
        Trouble::file("write", path, &e)
    })
}

/// The profile files of a folder, by name; none when there is no such folder and it was not asked for.
pub(super) fn profile_files(folder: &Path, asked_for: bool) -> Result<Vec<PathBuf>, Trouble> {
    let entries = match fs::read_dir(folder) {
        Ok(entries) => entries,
        Err(e) if !asked_for && matches!(e.kind(), io::ErrorKind::NotFound | io::ErrorKind::NotADirectory) => {
            return Ok(Vec::new())
        }
        Err(e) => return Err(Trouble::file("read the profile folder", folder, &e)),
    };
    let mut files = Vec::new();
    for entry in entries {
        let path = entry.map_err(|e| Trouble::file("read the profile folder", folder, &e))?.path();
        if path.extension().is_some_and(|e| e == "toml") {
            files.push(path);
        }
    }
    files.sort();
    Ok(files)
}

/// A pack's files as they are on disk, by their path inside the pack with `/`.
pub(super) fn read_pack(folder: &Path) -> Result<BTreeMap<String, Vec<u8>>, Trouble> {
    let mut files = BTreeMap::new();
    let mut open = vec![folder.to_path_buf()];
    while let Some(place) = open.pop() {
        for entry in fs::read_dir(&place).map_err(|e| Trouble::file("read the pack", &place, &e))? {
            let path = entry.map_err(|e| Trouble::file("read the pack", &place, &e))?.path();
            let meta = fs::symlink_metadata(&path).map_err(|e| Trouble::file("read", &path, &e))?;
            if meta.is_dir() {
                open.push(path);
            } else if meta.is_file() {
                let inside = path.strip_prefix(folder).unwrap_or(&path);
                files.insert(slashed(inside), read_bounded(&path, meta.len())?);
            }
        }
    }
    Ok(files)
}

/// A file's bytes; of one too large to be ours only the first byte, which no reader will take for a whole file.
fn read_bounded(path: &Path, length: u64) -> Result<Vec<u8>, Trouble> {
    if length > LARGEST_PACK_FILE {
        return Ok(vec![0]);
    }
    fs::read(path).map_err(|e| Trouble::file("read", path, &e))
}

fn slashed(path: &Path) -> String {
    let names: Vec<_> = path
        .components()
        .filter_map(|c| match c {
            Component::Normal(name) => Some(name.to_string_lossy()),
            _ => None,
        })
        .collect();
    names.join("/")
}

/// Writes a pack into a folder beside `out`, lets `prove` look at it as it lies on the disk, and moves it into place when that
/// says yes.
///
/// An earlier pack at `out` survives any failure; a folder that is not a pack is never replaced.
///
/// # Errors
/// When a file or folder cannot be used. `Ok(false)` when `prove` said no and nothing was changed.
pub fn release(
    out: &Path,
    files: &Files,
    prove: impl FnOnce(&BTreeMap<String, Vec<u8>>) -> (bool, Files),
) -> Result<bool, Trouble> {
    check_place(out)?;
    let parent = match out.parent() {
        Some(p) if !p.as_os_str().is_empty() => p,
        _ => Path::new("."),
    };
    let way = Way::to(parent)?;
    let bench = tempfile::Builder::new()
        .prefix(".baywright-")
        .tempdir_in(parent)
        .map_err(|e| Trouble::file("write into", parent, &e))?;
    let fresh = bench.path().join("pack");
    write_all(&fresh, files)?;
    let (passed, more) = prove(&read_pack(&fresh)?);
    if !passed {
        return Ok(false);
    }
    write_all(&fresh, &more)?;
    // The old pack steps aside only once the new one is whole, and comes back if the last step fails.
    let aside = bench.path().join("earlier");
    let had_one = out.exists();
    if had_one {
        fs::rename(out, &aside).map_err(|e| Trouble::file("replace", out, &e))?;
    }
    if let Err(e) = fs::rename(&fresh, out) {
        if had_one {
            fs::rename(&aside, out).map_err(|e| Trouble::file("put back the earlier pack at", out, &e))?;
        }
        return Err(Trouble::file("move the pack to", out, &e));
    }
    way.keep();
    Ok(true)
}

/// Folders made on the way to a place; taken away again, where still empty, unless kept.
struct Way {
    made: Vec<PathBuf>,
}

impl Way {
    fn to(folder: &Path) -> Result<Self, Trouble> {
        let missing = |f: &&Path| !f.as_os_str().is_empty() && fs::symlink_metadata(f).is_err();
        let mut way = Self { made: folder.ancestors().take_while(missing).map(Path::to_path_buf).collect() };
        let done = fs::create_dir_all(folder).map_err(|e| Trouble::file("make the folder", folder, &e));
        if done.is_err() {
            way.made.retain(|f| f.is_dir());
        }
        done.map(|()| way)
    }

    fn keep(mut self) {
        self.made.clear();
    }
}

impl Drop for Way {
    fn drop(&mut self) {
        for folder in &self.made {
            // Innermost first; one that is not empty is somebody else's by now.
            if fs::remove_dir(folder).is_err() {
                break;
            }
        }
    }
}

/// Whether a pack may be released at a place.
fn check_place(out: &Path) -> Result<(), Trouble> {
    if out.file_name().is_none() {
        return Err(Trouble::new(format!("\"{}\" names no folder to make", out.display()), "name a folder with --out"));
    }
    let Ok(meta) = fs::metadata(out) else { return Ok(()) };
    if !meta.is_dir() {
        return Err(Trouble::new(format!("{} is a file, not a folder", out.display()), "name another folder with --out"));
    }
    let empty = fs::read_dir(out).map_err(|e| Trouble::file("read", out, &e))?.next().is_none();
    if empty || out.join("job.json").is_file() {
        return Ok(());
    }
    Err(Trouble::new(
        format!("{} holds files but is not a pack (it has no job.json)", out.display()),
        "name another folder with --out; nothing was changed",
    ))
}

fn write_all(folder: &Path, files: &Files) -> Result<(), Trouble> {
    for (name, bytes) in files {
        let path = folder.join(name);
        if let Some(parent) = path.parent() {
            fs::create_dir_all(parent).map_err(|e| Trouble::file("make the folder", parent, &e))?;
        }
        fs::write(&path, bytes).map_err(|e| Trouble::file("write", &path, &e))?;
    }
    Ok(())
}
