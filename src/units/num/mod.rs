//! The only place that calls floating-point functions, and it calls `libm`.
//!
//! The standard library's `sin`, `atan2`, `hypot` … differ in their last bits between a native build
//! and WebAssembly; `libm`, `sqrt` and plain arithmetic do not. `.clippy.toml` bans the standard ones
//! in this crate.

mod gather;
mod roots;
mod sort;

pub use gather::Gather;
pub use roots::{Roots, edge_between, least_between, root_between, roots};
pub use sort::{sort, sort_by};

use core::f64::consts::PI;

/// Degrees in one radian.
const DEGREES: f64 = 180.0 / PI;

/// Sine of an angle in degrees. `sin_deg(30.0)` is 0.5 to the last bit or one beside it.
pub fn sin_deg(degrees: f64) -> f64 {
    libm::sin(degrees / DEGREES)
}
/// Cosine of an angle in degrees; exactly 0 at ±90.
pub fn cos_deg(degrees: f64) -> f64 {
    if degrees == 90.0 || degrees == -90.0 { 0.0 } else { libm::cos(degrees / DEGREES) }
}
/// Tangent of an angle in degrees; exactly ±1 at ±45.
pub fn tan_deg(degrees: f64) -> f64 {
    if degrees == 45.0 {
        1.0
    } else if degrees == -45.0 {
        -1.0
    } else {
        libm::tan(degrees / DEGREES)
    }
}
/// Angle in degrees whose tangent is y/x, in (-180, 180].
pub fn atan2_deg(y: f64, x: f64) -> f64 {
    libm::atan2(y, x) * DEGREES
}
/// Angle in degrees, in [-90, 90], whose tangent is `t`.
pub fn atan_deg(t: f64) -> f64 {
    libm::atan(t) * DEGREES
}
/// Angle in degrees, in [-90, 90], whose sine is `s`; `s` is clamped to [-1, 1].
pub fn asin_deg(s: f64) -> f64 {
    libm::asin(s.clamp(-1.0, 1.0)) * DEGREES
}
/// Angle in degrees, in [0, 180], whose cosine is `c`; `c` is clamped to [-1, 1].
pub fn acos_deg(c: f64) -> f64 {
    libm::acos(c.clamp(-1.0, 1.0)) * DEGREES
}
/// √(x² + y²) without overflow.
pub fn hypot(x: f64, y: f64) -> f64 {
    libm::hypot(x, y)
}
/// Square root (exactly rounded on every target).
pub fn sqrt(x: f64) -> f64 {
    x.sqrt()
}
/// Largest whole number not above `x`.
pub fn floor(x: f64) -> f64 {
    x.floor()
}
/// Smallest whole number not below `x`.
pub fn ceil(x: f64) -> f64 {
    x.ceil()
}
/// Nearest whole number, exact halves upwards (the trade's way, and this project's only one).
pub fn round_half_up(x: f64) -> f64 {
    (x + 0.5).floor()
}
