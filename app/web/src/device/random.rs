//! Random numbers, for names that nobody has to be asked for.
//!
//! <https://developer.mozilla.org/docs/Web/API/Crypto/getRandomValues>.

/// 64 random bits.
pub fn bits() -> u64 {
    let mut bytes = [0_u8; 8];
    let filled = super::page::window()
        .crypto()
        .is_ok_and(|crypto| crypto.get_random_values_with_u8_array(&mut bytes).is_ok());
    if !filled {
        // Every browser that runs WebAssembly has it; without it two phones could clash, so do not go on.
        wasm_bindgen::throw_str("this browser has no random numbers");
    }
    u64::from_le_bytes(bytes)
}
