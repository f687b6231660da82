//! The yards that were open last.

use barpoise_core::file::write_whole;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, channel};

/// More than this are forgotten, the oldest first.
const MOST: usize = 12;
const FILE: &str = "recent.json";

/// The list, newest first, and which of its files are gone.
#[derive(Debug, Default)]
pub(crate) struct Recent {
    /// Where the list is kept; without it, it lasts as long as the window.
    store: Option<PathBuf>,
    list: Vec<PathBuf>,
    gone: Vec<PathBuf>,
    looking: Option<Receiver<Vec<PathBuf>>>,
    drawn_in_pass: u64,
}

impl Recent {
    /// The list that is kept in a folder.
    pub(in crate::window) fn kept_in(own: &Path) -> Self {
        let store = own.join(FILE);
        Self { list: read(&store), store: Some(store), ..Self::default() }
    }

    /// The files, newest first.
    pub(in crate::window) fn list(&self) -> &[PathBuf] {
        &self.list
    }

    /// True where the file was not there when it was last looked for.
    pub(in crate::window) fn is_gone(&self, path: &Path) -> bool {
        self.gone.iter().any(|gone| gone == path)
    }

    /// A file was opened or saved.
    pub(in crate::window) fn add(&mut self, path: &Path) {
        self.change(|list| {
            list.retain(|other| other != path);
            list.insert(0, path.to_owned());
            list.truncate(MOST);
        });
        self.gone.retain(|gone| gone != path);
    }

    /// Forgets a file; the file itself stays.
    pub(in crate::window) fn remove(&mut self, path: &Path) {
        self.change(|list| list.retain(|other| other != path));
    }

    /// Forgets them all.
    pub(in crate::window) fn clear(&mut self) {
        self.change(Vec::clear);
    }

    /// Another window may have changed the list: it is read again first. What cannot be kept is forgotten with the
    /// window, which loses no work.
    fn change(&mut self, change: impl FnOnce(&mut Vec<PathBuf>)) {
        if let Some(store) = self.store.as_ref().filter(|store| store.exists()) {
            self.list = read(store);
        }
        change(&mut self.list);
        let Some(store) = &self.store else { return };
        let texts: Vec<&str> = self.list.iter().filter_map(|path| path.to_str()).collect();
        if let (Ok(text), Some(folder)) = (serde_json::to_string_pretty(&texts), store.parent())
            && std::fs::create_dir_all(folder).is_ok()
        {
            let _ = write_whole(store, text.as_bytes());
        }
    }

    /// Looks which files are gone, beside the window, when the list comes into sight in this pass.
    pub(in crate::window) fn look(&mut self, pass: u64, wake: impl FnOnce() + Send + 'static) {
        if let Some(gone) = self.looking.as_ref().and_then(|looking| looking.try_recv().ok()) {
            self.gone = gone;
            self.looking = None;
        }
        let comes_into_sight = pass > self.drawn_in_pass.saturating_add(1) || self.drawn_in_pass == 0;
        self.drawn_in_pass = pass;
        if !comes_into_sight || self.looking.is_some() {
            return;
        }
        if let Some(store) = self.store.as_ref().filter(|store| store.exists()) {
            self.list = read(store);
        }
        let (send, receive) = channel();
        let list = self.list.clone();
        let work = move || {
            let gone = list.into_iter().filter(|path| !path.is_file()).collect();
            // The window may be closed by now.
            let _ = send.send(gone);
            wake();
        };
        // Without the thread none is marked, and opening one that is gone says so.
        self.looking =
            std::thread::Builder::new().name("recent yards".to_owned()).spawn(work).ok().map(|_| receive);
    }
}

/// The list in a file; a broken one is as good as none.
fn read(store: &Path) -> Vec<PathBuf> {
    let text = std::fs::read_to_string(store).unwrap_or_default();
    let mut list: Vec<PathBuf> = serde_json::from_str(&text).unwrap_or_default();
    list.truncate(MOST);
    list
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_newest_comes_first_once_and_the_list_is_bounded() {
        let own = tempfile::tempdir().unwrap();
        let mut recent = Recent::kept_in(own.path());
        for number in 0..20 {
            recent.add(Path::new(&format!("/yards/Höfe {number}.yard.ron")));
        }
        recent.add(Path::new("/yards/Höfe 15.yard.ron"));
        let list = Recent::kept_in(own.path()).list().to_vec();
        assert_eq!(list.len(), MOST);
        assert_eq!(list[..2], [PathBuf::from("/yards/Höfe 15.yard.ron"), "/yards/Höfe 19.yard.ron".into()]);
    }

    #[test]
    fn two_windows_keep_one_list_and_a_broken_one_begins_anew() {
        let own = tempfile::tempdir().unwrap();
        let (mut one, mut other) = (Recent::kept_in(own.path()), Recent::kept_in(own.path()));
        one.add(Path::new("/a"));
        other.add(Path::new("/b"));
        assert_eq!(other.list(), [Path::new("/b"), Path::new("/a")]);
        one.remove(Path::new("/a"));
        assert_eq!(one.list(), [Path::new("/b")]);
        std::fs::write(own.path().join(FILE), "[1, half").unwrap();
        one.add(Path::new("/c"));
        assert_eq!(Recent::kept_in(own.path()).list(), [Path::new("/c")]);
        one.clear();
        assert!(Recent::kept_in(own.path()).list().is_empty());
    }

    #[test]
    fn files_that_are_gone_are_marked() {
        let own = tempfile::tempdir().unwrap();
        let there = own.path().join("there.ron");
        std::fs::write(&there, "").unwrap();
        let mut recent = Recent::kept_in(own.path());
        let gone = own.path().join("gone.ron");
        recent.add(&there);
        recent.add(&gone);
        let (wake, woken) = channel();
        recent.look(5, move || wake.send(()).unwrap());
        woken.recv().unwrap();
        recent.look(6, || panic!("it is in sight already"));
        assert!(recent.is_gone(&gone) && !recent.is_gone(&there));
    }
}
