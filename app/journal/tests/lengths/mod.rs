//! Lengths, shortly.

use evenrow_rules::quantity::Length;

/// A length in millimetres.
pub(crate) fn mm(millimetres: f64) -> Length {
    Length::millimetres(millimetres).unwrap()
}
