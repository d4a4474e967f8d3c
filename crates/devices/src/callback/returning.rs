//! How what a callback owns comes home when its stream dies.

use crossbeam_channel::{Receiver, Sender, bounded};

/// Owned by a stream's callback; when the stream is dropped, with it the callback, the contents go home by themselves.
///
/// The last drop happens where the stream's thread ends, after the last block, never within one.
pub(crate) struct Returning<T> {
    inner: Option<Box<T>>,
    home: Sender<Box<T>>,
}

/// The way home: room for the one thing that can be out.
pub(crate) fn home<T>() -> (Sender<Box<T>>, Receiver<Box<T>>) {
    bounded(1)
}

impl<T> Returning<T> {
    pub(crate) const fn new(inner: Box<T>, home: Sender<Box<T>>) -> Self {
        Self { inner: Some(inner), home }
    }

    /// The contents; always there until the drop.
    ///
    /// # Real-time
    /// Does nothing.
    pub(crate) fn get(&mut self) -> Option<&mut T> {
        self.inner.as_deref_mut()
    }
}

impl<T> Drop for Returning<T> {
    fn drop(&mut self) {
        if let Some(inner) = self.inner.take() {
            // No room only if two were out, which cannot be; then it is freed here, off the callback.
            let _ = self.home.try_send(inner);
        }
    }
}
