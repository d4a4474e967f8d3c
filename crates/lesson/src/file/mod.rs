//! The lesson's text as a file: bytes to text, text to a tree with places, tree to the forms of its version.

pub(crate) mod fields;
pub(crate) mod guard;
pub(crate) mod syntax;
pub(crate) mod tree;
pub(crate) mod v1;
