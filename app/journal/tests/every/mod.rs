//! A name for every variant of an enum, and the list of these names, out of one table.
//!
//! A new variant does not compile until it stands in the table, and does not pass until a test has met it. Never here:
//! what the names are compared with.

/// Makes the list and the function that names a value.
macro_rules! every {
    ($list:ident, $name:ident, $of:ident { $($variant:ident = $word:literal),+ $(,)? }) => {
        const $list: &[&str] = &[$($word),+];

        fn $name(it: &$of) -> &'static str {
            match it {
                $($of::$variant { .. } => $word),+
            }
        }
    };
}

pub(crate) use every;
