//! The yard and its file: reading, saving, and what is in no file yet.

use super::{Document, OpenError};
use crate::desk::edit::Gesture;
use barpoise_core::Yard;
use barpoise_core::file::{Contents, Over, SaveError, Saved, read_yard_seen, save_yard_over};
use std::path::{Path, PathBuf};
use std::sync::Arc;

const REVERT: &str = "revert to the file";

/// A yard that is in no file yet, and the file it belongs to.
#[derive(Clone, Debug)]
pub struct Work {
    /// The yard.
    pub yard: Arc<Yard>,
    /// Its file; `None` for one that has none.
    pub path: Option<PathBuf>,
    /// What stood in the file when it was last read or written.
    pub seen: Option<Contents>,
}

impl Work {
    /// True where this is the same work, without looking into the yard.
    pub fn is_same(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.yard, &other.yard) && self.path == other.path && self.seen == other.seen
    }
}

impl Document {
    /// A yard from a file.
    ///
    /// # Errors
    /// Where the file is refused.
    pub fn open(path: &Path) -> Result<Self, OpenError> {
        let (yard, seen) = read_yard_seen(path).map_err(OpenError::File)?;
        Ok(Self { path: Some(absolute(path)), seen: Some(seen), ..Self::of(yard)? })
    }

    /// Work that was in no file yet when a window was lost. It is unsaved, but where the file holds the same.
    ///
    /// # Errors
    /// Where it has no setup.
    pub fn restored(work: Work) -> Result<Self, OpenError> {
        let Work { yard, path, seen } = work;
        let in_file = path.as_deref().and_then(|path| read_yard_seen(path).ok());
        let saved = in_file.filter(|(_, there)| Some(*there) == seen).map(|(yard, _)| Arc::new(yard));
        Ok(Self { saved, path, seen, ..Self::of(Arc::unwrap_or_clone(yard))? })
    }

    /// The file the yard came from; `None` for the demo.
    pub fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }

    /// What stood in that file when it was last read or written here.
    pub const fn seen(&self) -> Option<Contents> {
        self.seen
    }

    /// True where the yard differs from its file, or the demo from what it was, and where the file is gone.
    pub fn unsaved(&self) -> bool {
        let differs = |saved: &Arc<Yard>| !Arc::ptr_eq(&self.yard, saved) && self.yard.file() != saved.file();
        self.gone || self.saved.as_ref().is_none_or(differs)
    }

    /// What would be lost if the window were lost now.
    pub fn unsaved_work(&self) -> Option<Work> {
        self.unsaved().then(|| Work {
            yard: Arc::clone(&self.yard),
            path: self.path.clone(),
            seen: self.seen,
        })
    }

    /// Writes the yard to a file, which is then its own.
    ///
    /// # Errors
    /// Where it cannot be written, or something stands there that it may not be written over; the document stays as
    /// it was.
    pub fn save(&mut self, path: &Path, over: Over) -> Result<Saved, SaveError> {
        let saved = save_yard_over(&self.yard, path, over)?;
        self.path = Some(absolute(path));
        self.seen = Some(saved.contents);
        self.gone = false;
        self.saved = Some(Arc::clone(&self.yard));
        Ok(saved)
    }

    /// Reads the yard's file again, as one step that can be taken back. The demo begins again.
    ///
    /// # Errors
    /// Where the file is refused; the document stays as it was.
    pub fn revert(&mut self) -> Result<(), OpenError> {
        let (yard, seen) = match (&self.path, &self.saved) {
            (Some(path), _) => {
                let (yard, seen) = read_yard_seen(path).map_err(OpenError::File)?;
                (Arc::new(yard), Some(seen))
            }
            (None, Some(saved)) => (Arc::clone(saved), None),
            (None, None) => return Ok(()),
        };
        // What says the same shares what was computed.
        let yard = if yard.file() == self.yard.file() { Arc::clone(&self.yard) } else { yard };
        let bench = self.bench.rebased(&yard).ok_or(OpenError::NoSetup)?;
        self.take_yard(Arc::clone(&yard), self.choice.clone(), Some(bench), REVERT, Gesture::Single);
        self.saved = Some(yard);
        self.seen = seen;
        self.gone = false;
        Ok(())
    }

    /// True where there is something to revert to.
    pub const fn can_revert(&self) -> bool {
        self.path.is_some() || self.saved.is_some()
    }

    /// Keeps the yard in the window though its file now holds something else, which was seen: it is unsaved, and
    /// saving writes it over that.
    pub fn keep_mine(&mut self, seen: Contents) {
        self.seen = Some(seen);
        self.gone = false;
        self.saved = None;
    }

    /// Whether the file is gone: then the yard is in no file.
    pub const fn set_gone(&mut self, gone: bool) {
        self.gone = gone;
    }

    /// True where the file is gone.
    pub const fn is_gone(&self) -> bool {
        self.gone
    }
}

/// The same place from any folder; the path as it is where there is none.
fn absolute(path: &Path) -> PathBuf {
    std::path::absolute(path).unwrap_or_else(|_| path.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::desk::edit::{Edit, PartsEdit};
    use barpoise_core::file::read_yard;
    use barpoise_core::record::{PartId, PartKind};

    fn duplicate(document: &mut Document) {
        let setup = PartId::new(PartKind::Setup, "Bittern B24");
        document.apply(Edit::Parts(PartsEdit::Duplicate(setup)), Gesture::Single);
    }

    fn in_file(folder: &Path) -> (Document, PathBuf) {
        let path = folder.join("a.yard.ron");
        let mut document = Document::demo().unwrap();
        document.save(&path, Over::Nothing).unwrap();
        (document, path)
    }

    #[test]
    fn reverting_is_one_step_that_can_be_taken_back() {
        let folder = tempfile::tempdir().unwrap();
        let (mut document, _) = in_file(folder.path());
        duplicate(&mut document);
        let changed = document.yard().file().clone();
        assert!(document.unsaved());
        document.revert().unwrap();
        assert!(!document.unsaved());
        assert_eq!(document.undo_step(), Some(REVERT));
        document.apply(Edit::Undo, Gesture::Single);
        assert_eq!(document.yard().file(), &changed);
        assert!(document.unsaved());
        document.apply(Edit::Redo, Gesture::Single);
        assert!(!document.unsaved());
    }

    #[test]
    fn the_demo_reverts_and_a_new_yard_cannot() {
        let mut demo = Document::demo().unwrap();
        duplicate(&mut demo);
        demo.revert().unwrap();
        assert!(!demo.unsaved());
        let new = Document::new_yard(barpoise_core::file::demo().unwrap()).unwrap();
        assert!(!new.can_revert());
    }

    #[test]
    fn a_file_that_others_changed_is_written_over_only_when_it_was_seen() {
        let folder = tempfile::tempdir().unwrap();
        let (mut mine, path) = in_file(folder.path());
        let mut theirs = Document::open(&path).unwrap();
        duplicate(&mut theirs);
        theirs.save(&path, Over::Only(theirs.seen().unwrap())).unwrap();
        let error = mine.save(&path, Over::Only(mine.seen().unwrap())).unwrap_err();
        assert!(error.is_unseen());
        assert!(!mine.unsaved(), "it still says what was saved");
        mine.keep_mine(theirs.seen().unwrap());
        assert!(mine.unsaved());
        mine.save(&path, Over::Only(mine.seen().unwrap())).unwrap();
        assert_eq!(read_yard(&path).unwrap().file(), mine.yard().file());
    }

    #[test]
    fn restored_work_is_unsaved_work_with_its_path() {
        let folder = tempfile::tempdir().unwrap();
        let (mut document, path) = in_file(folder.path());
        assert!(document.unsaved_work().is_none());
        duplicate(&mut document);
        let restored = Document::restored(document.unsaved_work().unwrap()).unwrap();
        assert!(restored.unsaved());
        assert_eq!(restored.path(), Some(path.as_path()));
        assert_eq!(restored.yard().file(), document.yard().file());
        // What was saved after all is not unsaved.
        document.save(&path, Over::Anything).unwrap();
        let work = Work { yard: Arc::clone(document.shared_yard()), path: Some(path), seen: document.seen() };
        assert!(!Document::restored(work).unwrap().unsaved());
    }
}
