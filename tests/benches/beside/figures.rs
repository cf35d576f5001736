//! Medians, shares and what the system says about threads and memory.

use std::path::{Path, PathBuf};

/// The value below which a share of all lie.
pub fn at(values: &[f64], share: f64) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let place = (sorted.len().max(1) - 1) as f64 * share;
    sorted.get(place as usize).copied().unwrap_or(f64::NAN)
}

/// Median, 95th and most.
pub fn three(values: &[f64]) -> String {
    format!("{:.1} / {:.1} / {:.1}", at(values, 0.5), at(values, 0.95), at(values, 1.0))
}

/// The worker's thread of a browser, as the system's folder of it.
pub fn worker_thread(chromium: u64) -> Option<PathBuf> {
    let mut found = None;
    for process in below(chromium) {
        for task in std::fs::read_dir(process.join("task")).ok()?.flatten() {
            let name = std::fs::read_to_string(task.path().join("comm")).unwrap_or_default();
            if name.trim() == "DedicatedWorker" {
                found = Some(task.path());
            }
        }
    }
    found
}

/// Milliseconds of processor time of a thread.
pub fn processor(thread: &Path) -> Option<f64> {
    let text = std::fs::read_to_string(thread.join("schedstat")).ok()?;
    Some(text.split(' ').next()?.parse::<f64>().ok()? / 1e6)
}

/// Megabytes that the process of a thread has for itself (private pages), pages of others not counted.
pub fn private(thread: &Path) -> Option<f64> {
    let text = std::fs::read_to_string(thread.join("../../smaps_rollup")).ok()?;
    let kb: f64 = text
        .lines()
        .filter(|l| l.starts_with("Private_"))
        .filter_map(|l| l.split_whitespace().nth(1)?.parse::<f64>().ok())
        .sum();
    Some(kb / 1024.0)
}

/// A process and all that it started, as folders.
fn below(first: u64) -> Vec<PathBuf> {
    let parents: Vec<(u64, u64)> = std::fs::read_dir("/proc")
        .into_iter()
        .flatten()
        .flatten()
        .filter_map(|e| {
            let id = e.file_name().to_str()?.parse().ok()?;
            let stat = std::fs::read_to_string(e.path().join("stat")).ok()?;
            let parent = stat.rsplit(')').next()?.split_whitespace().nth(1)?.parse().ok()?;
            Some((id, parent))
        })
        .collect();
    let mut all = vec![first];
    let mut next = 0;
    while next < all.len() {
        let here = all[next];
        all.extend(parents.iter().filter(|p| p.1 == here).map(|p| p.0));
        next += 1;
    }
    all.iter().map(|id| PathBuf::from(format!("/proc/{id}"))).collect()
}
