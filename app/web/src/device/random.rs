//! Names that nobody has to be asked for.
//!
//! <https://developer.mozilla.org/docs/Web/API/Crypto/getRandomValues>.

use evenrow_journal::Id;
use wasm_bindgen::prelude::*;

/// A fresh id: 128 random bits in hexadecimal.
pub fn id() -> Id {
    let mut bytes = [0_u8; 16];
    let filled = super::page::window()
        .crypto()
        .is_ok_and(|crypto| crypto.get_random_values_with_u8_array(&mut bytes).is_ok());
    if !filled {
        // Every browser that runs WebAssembly has it; without it two phones could clash, so do not go on.
        wasm_bindgen::throw_str("this browser has no random numbers");
    }
    let digits = bytes.iter().flat_map(|byte| [byte >> 4, byte & 15]);
    let text: String = digits
        .filter_map(|digit| char::from_digit(u32::from(digit), 16))
        .collect();
    Id::new(&text).unwrap_throw()
}
