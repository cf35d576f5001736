//! What a first visit costs, file by file, against the budget in the workspace's manifest.

use crate::dist::Dist;
use crate::shell::{self, Failed};
use std::io::Write;

/// Prints raw, gzip and brotli bytes of every file; fails when the first load is over the budget.
pub fn report(dist: &Dist) -> Result<(), Failed> {
    let budget = budget()?;
    println!("{:<38}{:>10}{:>10}{:>10}", "file", "raw", "gzip", "brotli");
    let mut first = [0; 3];
    for (name, bytes) in &dist.files {
        let sizes = [bytes.len(), gzip(bytes)?, brotli(bytes)?];
        let mark = if Dist::in_first_load(name) {
            first = std::array::from_fn(|i| first[i] + sizes[i]);
            ""
        } else {
            "  later"
        };
        println!("{name:<38}{:>10}{:>10}{:>10}{mark}", sizes[0], sizes[1], sizes[2]);
    }
    println!(
        "{:<38}{:>10}{:>10}{:>10}  budget {budget}",
        "first load", first[0], first[1], first[2]
    );
    println!("version {}", dist.version);
    if first[2] > budget {
        return Err(format!(
            "The first load is {} bytes over its budget (budget_brotli in Cargo.toml).",
            first[2] - budget
        ));
    }
    Ok(())
}

fn budget() -> Result<usize, Failed> {
    let manifest = std::fs::read_to_string(shell::root().join("Cargo.toml"))
        .map_err(|e| format!("Cargo.toml: {e}"))?;
    manifest
        .split("[workspace.metadata.offsquare]")
        .nth(1)
        .and_then(|rest| {
            let line = rest
                .lines()
                .skip(1)
                .take_while(|l| !l.starts_with('['))
                .find(|l| l.starts_with("budget_brotli"))?;
            line.split('=').nth(1)?.trim().replace('_', "").parse().ok()
        })
        .ok_or_else(|| "Cargo.toml has no workspace.metadata.offsquare.budget_brotli".into())
}

fn gzip(bytes: &[u8]) -> Result<usize, Failed> {
    let mut encoder = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::best());
    encoder
        .write_all(bytes)
        .and_then(|()| encoder.finish())
        .map(|out| out.len())
        .map_err(|e| format!("gzip: {e}"))
}

fn brotli(bytes: &[u8]) -> Result<usize, Failed> {
    let settings = brotli::enc::BrotliEncoderParams {
        quality: 11,
        lgwin: 24,
        size_hint: bytes.len(),
        ..Default::default()
    };
    let mut out = Vec::new();
    brotli::BrotliCompress(&mut &*bytes, &mut out, &settings)
        .map(|_| out.len())
        .map_err(|e| format!("brotli: {e}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn repeated_bytes_shrink_and_the_budget_is_there() {
        let plain = [b'a'; 10_000];
        assert!(brotli(&plain).unwrap() < 50);
        assert!(gzip(&plain).unwrap() < 100);
        assert!(budget().unwrap() > 0);
    }
}
