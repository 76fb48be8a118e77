//! One file per command: the only room that reads or writes files, prints, or shows progress.
