//! Drawings and answers as files: PDF pages in true size, SVG for cutters, plain text.
//!
//! Writers lay out nothing of a figure and round nothing, so paper cannot disagree with the screen.

pub mod pdf;
pub mod svg;
