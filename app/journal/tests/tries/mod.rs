//! How a property is tried, the same in every file of these tests. Never here: the properties.

use proptest::prelude::ProptestConfig;
use proptest::test_runner::FileFailurePersistence;

/// Tries a property so many times; what fails is kept in a file beside the test and tried again first.
pub fn tries(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        failure_persistence: Some(Box::new(FileFailurePersistence::WithSource("regressions"))),
        ..ProptestConfig::default()
    }
}
