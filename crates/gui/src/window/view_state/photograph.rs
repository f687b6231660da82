//! What the page of a photograph remembers: the picture, where one looks, what is marked next.

use barpoise_core::photograph::{Measured, Missing, measure};
use barpoise_core::record::{Landmark, PartId, PhotographFile};
use egui::{TextureHandle, Vec2};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, channel};
use std::sync::{Arc, Mutex};

/// A photograph ready to be shown.
#[derive(Clone, PartialEq)]
pub struct Picture {
    /// What is painted; it may have fewer pixels.
    pub texture: TextureHandle,
    /// Width and height of the photograph turned upright, pixels.
    pub size: [u32; 2],
}

impl std::fmt::Debug for Picture {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Picture").field("size", &self.size).finish_non_exhaustive()
    }
}

/// A picture, or the one line that refuses it.
type Answer = Result<Picture, String>;

/// A picture that is being read beside the window.
#[derive(Clone, Debug)]
pub struct Loading {
    answer: Arc<Mutex<Receiver<Answer>>>,
}

impl Loading {
    /// Reads on a thread of its own; `read` wakes the window itself once it has been answered.
    ///
    /// # Errors
    /// Where the system gives no thread.
    pub fn begin(
        read: impl FnOnce() -> Answer + Send + 'static,
        wake: impl FnOnce() + Send + 'static,
    ) -> Result<Self, String> {
        let (send, receive) = channel();
        let work = move || {
            // The page may be closed by now; then nobody waits for the answer.
            let _ = send.send(read());
            wake();
        };
        let thread = std::thread::Builder::new().name("photograph".to_owned()).spawn(work);
        thread.map_err(|error| format!("the photograph cannot be read beside the window: {error}"))?;
        Ok(Self { answer: Arc::new(Mutex::new(receive)) })
    }

    fn answer(&self) -> Option<Answer> {
        self.answer.lock().ok()?.try_recv().ok()
    }
}

/// The page.
#[derive(Clone, Debug)]
pub struct PhotographView {
    /// The head.
    pub head: PartId,
    /// The picture's file.
    pub path: PathBuf,
    /// The picture, once it is read.
    pub picture: Option<Picture>,
    /// Why there is none.
    pub refusal: Option<String>,
    /// What is marked; `None` for what is missing next.
    pub marking: Option<Landmark>,
    /// How much nearer than the whole picture one looks.
    pub zoom: f32,
    /// Where the picture's middle lies from the page's, points.
    pub moved: Vec2,
    loading: Option<Loading>,
    measured: Option<(PhotographFile, Result<Measured, Missing>)>,
}

impl PartialEq for PhotographView {
    fn eq(&self, other: &Self) -> bool {
        self.head == other.head && self.path == other.path && self.picture == other.picture
    }
}

impl PhotographView {
    /// The page of a head's photograph that is being read.
    pub fn new(head: PartId, path: &Path, loading: Result<Loading, String>) -> Self {
        let (loading, refusal) = match loading {
            Ok(loading) => (Some(loading), None),
            Err(refusal) => (None, Some(refusal)),
        };
        Self {
            head,
            path: path.to_owned(),
            picture: None,
            refusal,
            marking: None,
            zoom: 1.0,
            moved: Vec2::ZERO,
            loading,
            measured: None,
        }
    }

    /// What the marks say, worked out when they change and not at every pass.
    ///
    /// # Errors
    /// What is missing first.
    pub fn measured(&mut self, file: &PhotographFile) -> Result<Measured, Missing> {
        match &self.measured {
            Some((of, found)) if of == file => found.clone(),
            _ => {
                let found = measure(file);
                self.measured = Some((file.clone(), found.clone()));
                found
            }
        }
    }

    /// Takes the picture that has been read, if it has. True in the pass in which it comes.
    pub fn settle(&mut self) -> bool {
        let Some(answer) = self.loading.as_ref().and_then(Loading::answer) else { return false };
        self.loading = None;
        match answer {
            Ok(picture) => self.picture = Some(picture),
            Err(refusal) => self.refusal = Some(refusal),
        }
        self.picture.is_some()
    }
}
