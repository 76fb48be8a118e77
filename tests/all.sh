#!/bin/sh
# Every test there is: format, lints, documentation, the Rust tests, then the pack of each sample read by independent libraries.
# Needs Rust and Python 3 with its venv module, and looks at the build books in Chromium where there is one; leaves everything it makes in target/.
set -eu
cd "$(dirname "$0")/.."

export CARGO_TERM_COLOR="${CARGO_TERM_COLOR:-never}"
log=target/all-tests.log
mkdir -p target
: > "$log"

# Runs a command, shows what it prints, keeps it in the log, and ends with the command's own exit code.
shown() {
    { { "$@" 2>&1; echo $? > target/all-tests.code; } | tee -a "$log"; } || true
    return "$(cat target/all-tests.code)"
}

step() { printf '\n== %s\n' "$*"; }

step "independent readers"
if ! target/venv/bin/python -c "import axe_playwright_python, cairosvg, ezdxf, fiona, html5lib, pygcode, pypdf, svgelements, svgpathtools" 2>/dev/null; then
    python3 -m venv target/venv
    target/venv/bin/python -m pip install --quiet --disable-pip-version-check --requirement tests/readers/requirements.txt
fi

# Runs a check that counts as one test.
check() {
    if "$@"; then
        echo "1 passed, 0 failed" >> "$log"
    else
        echo "0 passed, 1 failed" >> "$log"
    fi
}

step "format"
check cargo fmt --check
step "lints"
check cargo clippy --all-targets --quiet -- -D warnings
step "documentation"
check env RUSTDOCFLAGS="-D warnings" cargo doc --no-deps --quiet
step "tests"
failed=0
# No result line comes from tests that do not build, so that counts by itself.
shown cargo test --quiet --no-fail-fast || check false

step "packs of the samples, read by other libraries"
cargo build --quiet
for project in samples/*.toml; do
    name=$(basename "$project" .toml)
    for process in machine saw; do
        pack="target/packs/$name-$process"
        rm -rf "$pack"
        if shown target/debug/baywright make "$project" --process "$process" --out "$pack"; then
            shown target/venv/bin/python tests/readers/read_pack.py "$pack" || failed=1
        else
            echo "0 passed, 1 failed" | tee -a "$log"
            failed=1
        fi
    done
done

step "pages of masses and forces, worked out again by hand"
for project in samples/*.toml; do
    page="target/packs/$(basename "$project" .toml)-load.json"
    target/debug/baywright load "$project" --json > "$page" || failed=1
    shown target/venv/bin/python tests/readers/load_page.py "$page" || failed=1
done

# The same designs in card: small, and at the scale where joints look true.
for mock in "survey-van 1:6" "first-drawer auto"; do
    name=${mock% *}
    scale=${mock#* }
    pack="target/packs/mock-$name"
    rm -rf "$pack"
    if shown target/debug/baywright mockup "samples/$name.toml" --board card-single-c --scale "$scale" --out "$pack"; then
        shown target/venv/bin/python tests/readers/read_pack.py "$pack" || failed=1
    else
        echo "0 passed, 1 failed" | tee -a "$log"
        failed=1
    fi
done

# The closing line sums what the Rust tests and the readers counted.
awk '
    /^test result: / { for (i = 1; i < NF; i++) { if ($(i + 1) ~ /^passed/) good += $i; if ($(i + 1) ~ /^failed/) bad += $i } }
    /^[0-9]+ passed, [0-9]+ failed$/ { good += $1; bad += $3 }
    END { printf "\n%d passed, %d failed\n", good, bad; exit (bad > 0 || good == 0) }
' "$log" || failed=1
exit "$failed"
