//! A folder of files, read into memory.

use crate::shell::Failed;
use std::collections::BTreeMap;
use std::path::Path;

/// Files by their path from the folder's top, with `/` between names.
pub type Files = BTreeMap<String, Vec<u8>>;

/// All files under a folder.
pub fn read_folder(folder: &Path) -> Result<Files, Failed> {
    let mut files = Files::new();
    let mut open = vec![folder.to_path_buf()];
    while let Some(next) = open.pop() {
        let said = |e: std::io::Error| format!("{}: {e}", next.display());
        for entry in std::fs::read_dir(&next).map_err(said)? {
            let path = entry.map_err(said)?.path();
            if path.is_dir() {
                open.push(path);
                continue;
            }
            let name = path
                .strip_prefix(folder)
                .map_err(|e| e.to_string())?
                .components()
                .map(|c| c.as_os_str().to_string_lossy().into_owned())
                .collect::<Vec<_>>()
                .join("/");
            let bytes = std::fs::read(&path).map_err(|e| format!("{}: {e}", path.display()))?;
            files.insert(name, bytes);
        }
    }
    Ok(files)
}

/// Writes a folder anew.
pub fn write_folder(files: &Files, folder: &Path) -> Result<(), Failed> {
    clear(folder)?;
    for (name, bytes) in files {
        let path = folder.join(name);
        path.parent()
            .map_or(Ok(()), std::fs::create_dir_all)
            .and_then(|()| std::fs::write(&path, bytes))
            .map_err(|e| format!("{}: {e}", path.display()))?;
    }
    Ok(())
}

/// Removes a folder with all that is in it, if it is there.
pub fn clear(folder: &Path) -> Result<(), Failed> {
    match std::fs::remove_dir_all(folder) {
        Err(e) if e.kind() != std::io::ErrorKind::NotFound => {
            Err(format!("{}: {e}", folder.display()))
        }
        _ => Ok(()),
    }
}
