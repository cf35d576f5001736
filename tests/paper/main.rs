//! What is printed is true: PDF and SVG files are read back by independent readers and measured.

mod agree;
mod codes;
mod cut_sheet;
mod jobs;
mod legible;
mod pages;
mod reader;
mod readings;
mod svg;
mod told;
mod true_size;
