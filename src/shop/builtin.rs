//! The profiles that come with the program.

/// Built-in profile files: name, then text.
pub const BUILT_IN: [(&str, &str); 6] = [
    ("profiles/boards.toml", include_str!("../../profiles/boards.toml")),
    ("profiles/cutters.toml", include_str!("../../profiles/cutters.toml")),
    ("profiles/machines.toml", include_str!("../../profiles/machines.toml")),
    ("profiles/slides.toml", include_str!("../../profiles/slides.toml")),
    ("profiles/latches.toml", include_str!("../../profiles/latches.toml")),
    ("profiles/fasteners.toml", include_str!("../../profiles/fasteners.toml")),
];
