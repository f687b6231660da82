//! How many random cases a law gets whose single case is dear.

use proptest::test_runner::Config;

/// So many random cases where usually there are 256; `PROPTEST_CASES` raises both in proportion.
pub(crate) fn few_cases(of: u32) -> Config {
    Config { cases: (of * Config::default().cases).div_ceil(256), ..Config::default() }
}
