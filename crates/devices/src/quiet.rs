//! The system's sound library kept from talking over us.

/// Keeps what ALSA would print to standard error on this thread to itself, from now on: it complains about every device
/// that is not there, and we say ourselves what is missing.
#[cfg(target_os = "linux")]
pub(crate) fn hush() {
    // Called again it empties what was kept so far. If it can't be had, ALSA talks; nothing else is worse for it.
    let _ = alsa::Output::local_error_handler();
}

/// Nothing to keep quiet.
#[cfg(not(target_os = "linux"))]
pub(crate) fn hush() {}
