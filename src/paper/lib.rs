//! What is shown and printed: drawings, pictures at the saw, reports, and the writers of SVG and PDF.

pub mod at_saw;
pub mod drawing;
pub mod gauge;
pub mod report;
pub mod writers;

mod job;

pub use job::{paper_job, paper_job_of};
