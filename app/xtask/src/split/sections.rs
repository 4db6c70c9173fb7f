//! The sections of a wasm file, as the specification has them: <https://webassembly.github.io/spec/core/binary/modules.html>.
//!
//! Never here: what becomes of them.

const HEADER: usize = 8;

/// The wasm with a section whose entries are read and written anew one by one; an entry for which nothing comes back is
/// left out. None where the wasm is cut short.
pub(super) fn with_section(
    wasm: &[u8],
    section: u8,
    mut entry: impl FnMut(&mut Reader<'_>) -> Option<Option<Vec<u8>>>,
) -> Option<Vec<u8>> {
    let mut written = wasm.get(..HEADER)?.to_vec();
    let mut rest = Reader(wasm.get(HEADER..)?);
    while !rest.0.is_empty() {
        let kind = rest.byte()?;
        let body = rest.run()?;
        written.push(kind);
        if kind != section {
            push_run(&mut written, body);
            continue;
        }
        let mut entries = Reader(body);
        let count = entries.number()?;
        let mut kept = Vec::new();
        for _ in 0..count {
            kept.extend(entry(&mut entries)?);
        }
        let mut anew = Vec::new();
        push_number(&mut anew, kept.len());
        anew.extend(kept.concat());
        push_run(&mut written, &anew);
    }
    Some(written)
}

/// What is left to be read.
pub(super) struct Reader<'a>(&'a [u8]);

impl<'a> Reader<'a> {
    pub(super) fn byte(&mut self) -> Option<u8> {
        let (first, rest) = self.0.split_first()?;
        self.0 = rest;
        Some(*first)
    }

    /// Seven bits to a byte, the lowest first; the eighth says that more follow.
    pub(super) fn number(&mut self) -> Option<usize> {
        let (mut number, mut bits) = (0, 0);
        loop {
            let byte = self.byte()?;
            number |= usize::from(byte & 0x7f).checked_shl(bits)?;
            if byte & 0x80 == 0 {
                return Some(number);
            }
            bits += 7;
        }
    }

    /// As many bytes as the number before them says.
    pub(super) fn run(&mut self) -> Option<&'a [u8]> {
        let length = self.number()?;
        let (run, rest) = self.0.split_at_checked(length)?;
        self.0 = rest;
        Some(run)
    }

    /// What an import is: a function, a table, a memory or a global.
    pub(super) fn description(&mut self) -> Option<&'a [u8]> {
        let start = self.0;
        match self.byte()? {
            0 => {
                self.number()?;
            }
            1 => {
                self.byte()?;
                self.limits()?;
            }
            2 => self.limits()?,
            3 => {
                self.byte()?;
                self.byte()?;
            }
            _ => return None,
        }
        start.get(..start.len() - self.0.len())
    }

    fn limits(&mut self) -> Option<()> {
        let has_end = self.byte()? & 1 == 1;
        self.number()?;
        if has_end {
            self.number()?;
        }
        Some(())
    }
}

pub(super) fn push_number(bytes: &mut Vec<u8>, mut number: usize) {
    while 0x7f < number {
        bytes.push((number & 0x7f) as u8 | 0x80);
        number >>= 7;
    }
    bytes.push(number as u8);
}

pub(super) fn push_run(bytes: &mut Vec<u8>, run: &[u8]) {
    push_number(bytes, run.len());
    bytes.extend(run);
}
