//! A folder of files that are refused, each with exactly the lines that its `expected.txt` has for it.

#![expect(clippy::unwrap_used, clippy::panic, reason = "helpers of tests, outside a test function")]

use std::collections::BTreeMap;
use std::fmt::Display;
use std::path::{Path, PathBuf};

/// Such a folder, and how a file of it is read.
pub struct Corpus<T, E> {
    folder: &'static str,
    ending: &'static str,
    read: fn(&Path) -> Result<T, E>,
}

impl<T, E: Display> Corpus<T, E> {
    pub const fn new(folder: &'static str, ending: &'static str, read: fn(&Path) -> Result<T, E>) -> Self {
        Self { folder, ending, read }
    }

    pub fn path(&self) -> PathBuf {
        Path::new(env!("CARGO_MANIFEST_DIR")).join(self.folder)
    }

    /// Names of its files, in order.
    pub fn names(&self) -> Vec<String> {
        let mut names: Vec<String> = std::fs::read_dir(self.path())
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .filter(|name| name.ends_with(self.ending))
            .collect();
        names.sort();
        names
    }

    /// The refusal of a file, told by its bare name.
    pub fn refusal(&self, name: &str) -> String {
        let path = self.path().join(name);
        let Err(error) = (self.read)(&path) else { panic!("{name} is taken") };
        error.to_string().replace(&path.display().to_string(), name)
    }

    fn expected(&self) -> BTreeMap<String, Vec<String>> {
        let text = std::fs::read_to_string(self.path().join("expected.txt")).unwrap();
        let mut lines: BTreeMap<String, Vec<String>> = BTreeMap::new();
        for line in text.lines().filter(|line| !line.starts_with('#')) {
            let name = line.split(':').next().unwrap_or_default();
            lines.entry(name.to_owned()).or_default().push(line.to_owned());
        }
        lines
    }

    /// Each of more than so many files is refused with its lines, and no lines are without a file.
    pub fn holds(&self, more_than: usize) {
        let (expected, names) = (self.expected(), self.names());
        assert!(names.len() > more_than, "the corpus has only {} files", names.len());
        let mut wrong = Vec::new();
        for name in &names {
            let lines = expected.get(name).map_or_else(String::new, |lines| lines.join("\n"));
            let found = self.refusal(name);
            if found != lines {
                wrong.push(format!("expected\n{lines}\nfound\n{found}"));
            }
        }
        for name in expected.keys().filter(|name| !names.contains(name)) {
            wrong.push(format!("expected.txt names {name}, which is not there"));
        }
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    }
}
