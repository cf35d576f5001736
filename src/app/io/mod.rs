//! Everything outside the app, each behind a small door: storage, files, clock, the service worker, the
//! planner's worker.

pub mod awake;
pub mod brought;
pub mod browser;
pub mod camera;
pub mod display;
pub mod files;
pub mod json;
pub mod keeping;
mod locks;
pub mod pictures;
pub mod planning;
pub mod printing;
mod shelf;
pub mod shelving;
pub mod speech;
pub mod storage;
pub mod taps;
pub mod updates;
pub mod visits;
