//! Small views and components that several screens use.

pub mod amount;
pub mod cell;
pub mod coming;
pub mod dock;
pub mod icon;
pub mod keys;
pub mod later;
pub mod notice;
pub mod pad;
pub mod sheet;
pub mod step;
pub mod tags;
