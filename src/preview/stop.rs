use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Condvar, Mutex, PoisonError};
use std::time::Duration;

use crate::failure::Failure;

/// Told once, heard by everything that waits.
#[derive(Debug, Clone, Default)]
pub struct Stop {
    inner: Arc<Inner>,
}

#[derive(Debug, Default)]
struct Inner {
    told: AtomicBool,
    lock: Mutex<()>,
    wake: Condvar,
}

impl Stop {
    pub fn new() -> Self {
        Self::default()
    }

    /// Stops when the program is interrupted: Ctrl-C, or asked to end.
    pub fn when_interrupted() -> Result<Self, Failure> {
        let stop = Self::new();
        let heard = stop.clone();
        ctrlc::set_handler(move || heard.tell())
            .map_err(|error| Failure::Refused(format!("Ctrl-C cannot be listened for: {error}")))?;
        Ok(stop)
    }

    pub fn tell(&self) {
        self.inner.told.store(true, Ordering::SeqCst);
        let _guard = self.inner.lock.lock().unwrap_or_else(PoisonError::into_inner);
        self.inner.wake.notify_all();
    }

    pub fn is_told(&self) -> bool {
        self.inner.told.load(Ordering::SeqCst)
    }

    /// Waits, but not past the moment of being told. True when told.
    pub(super) fn wait(&self, time: Duration) -> bool {
        let guard = self.inner.lock.lock().unwrap_or_else(PoisonError::into_inner);
        if !self.is_told() {
            let _ = self.inner.wake.wait_timeout(guard, time);
        }
        self.is_told()
    }
}
