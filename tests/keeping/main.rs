//! What the device keeps: changes as patches, two tabs over one device, undo of each tab's own, kills at any moment.

mod device;
mod files;
mod patches;
mod plain;
mod tabs;
