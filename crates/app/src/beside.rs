//! Work that takes longer than a frame may, done beside the frames.

use bevy::tasks::{AsyncComputeTaskPool, Task, block_on, poll_once};

/// One piece of work under way, with what it is of.
pub struct Beside<K, T>(Option<(K, Task<T>)>);

impl<K, T> Default for Beside<K, T> {
    fn default() -> Self {
        Beside(None)
    }
}

impl<K, T: Send + 'static> Beside<K, T> {
    /// Whether some work is under way.
    pub fn is_busy(&self) -> bool {
        self.0.is_some()
    }

    /// What the work under way is of.
    pub fn of(&self) -> Option<&K> {
        self.0.as_ref().map(|(of, _)| of)
    }

    /// What has come of it, with what it is of, once it is done.
    pub fn take(&mut self) -> Option<(K, T)> {
        let (_, task) = self.0.as_mut()?;
        let done = block_on(poll_once(task))?;
        self.0.take().map(|(of, _)| (of, done))
    }

    /// Starts on another; what was under way is dropped.
    pub fn start(&mut self, of: K, work: impl Future<Output = T> + Send + 'static) {
        self.0 = Some((of, AsyncComputeTaskPool::get().spawn(work)));
    }
}
