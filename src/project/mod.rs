//! What the maker wrote: a project file with every value's place in it, and nothing filled in.
//!
//! Takes: the text of a project file (and of the files it is based on).
//! Gives: [`Project`], the same content as typed values with spans.
//! Guarantees: lengths are finite millimetres; every unknown key, wrong type and unreadable length was reported, all in one go.
//! Never: applies a default, looks up a profile, or reads a file.

pub mod codes;
