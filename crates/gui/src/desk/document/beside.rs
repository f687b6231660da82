//! An answer that takes longer than a pass of the window: worked out beside it, once somebody asks.

use std::cell::RefCell;
use std::sync::mpsc::{Receiver, channel};

/// An answer, as far as it is known.
#[derive(Debug)]
pub struct Beside<T>(RefCell<Asked<T>>);

#[derive(Debug)]
enum Asked<T> {
    Not,
    Waits(Receiver<T>),
    Known(T),
}

impl<T> Default for Beside<T> {
    fn default() -> Self {
        Self(RefCell::new(Asked::Not))
    }
}

impl<T: Copy + Send + 'static> Beside<T> {
    /// The answer, where it is known; else `find` is set going, once, on a thread of its own.
    pub fn known(&self, find: impl FnOnce() -> T + Send + 'static) -> Option<T> {
        let mut asked = self.0.borrow_mut();
        if let Asked::Not = *asked {
            let (send, answer) = channel();
            // Nobody listens any more where the question has changed since.
            std::thread::spawn(move || send.send(find()).ok());
            *asked = Asked::Waits(answer);
        }
        if let Asked::Waits(answer) = &*asked
            && let Ok(found) = answer.try_recv()
        {
            *asked = Asked::Known(found);
        }
        if let Asked::Known(found) = *asked { Some(found) } else { None }
    }

    /// True while the answer is being worked out.
    pub fn is_coming(&self) -> bool {
        matches!(*self.0.borrow(), Asked::Waits(_))
    }

    /// True once somebody has asked.
    pub fn is_asked(&self) -> bool {
        !matches!(*self.0.borrow(), Asked::Not)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::{Duration, Instant};

    #[test]
    fn an_answer_is_worked_out_once_and_stays() {
        let answer = Beside::default();
        assert!(!answer.is_asked() && !answer.is_coming());
        let begun = Instant::now();
        let found = loop {
            if let Some(found) = answer.known(|| 7) {
                break found;
            }
            assert!(begun.elapsed() < Duration::from_secs(20), "no answer");
            std::thread::sleep(Duration::from_millis(1));
        };
        assert_eq!(found, 7);
        assert!(answer.is_asked() && !answer.is_coming());
        assert_eq!(answer.known(|| 8), Some(7));
    }
}
