//! Denormal numbers off, for the thread that asks.
//!
//! Nothing here is needed for the sound to be right: quiet strings are cleared long before they reach denormals. It
//! keeps the cost even where something slips through.

/// Makes the calling thread treat denormal numbers as zero (FTZ and DAZ), where the processor can. Call it at the
/// start of every audio callback: it costs two instructions, and the thread is the device's, not ours.
///
/// # Real-time
/// Sets a register.
pub fn flush_denormals() {
    flush();
}

/// # Real-time
/// Sets a register.
#[cfg(target_arch = "x86_64")]
#[expect(unsafe_code, reason = "the control register can only be reached by instruction; only rounding bits change")]
fn flush() {
    const FTZ_AND_DAZ: u32 = 0x8040;
    let mut control = 0_u32;
    // SAFETY: every x86-64 has SSE; stmxcsr and ldmxcsr touch only the 4 bytes pointed at and this thread's register.
    unsafe {
        std::arch::asm!("stmxcsr [{}]", in(reg) &raw mut control, options(nostack, preserves_flags));
        control |= FTZ_AND_DAZ;
        std::arch::asm!("ldmxcsr [{}]", in(reg) &raw const control, options(nostack, preserves_flags, readonly));
    }
}

/// # Real-time
/// Sets a register.
#[cfg(target_arch = "aarch64")]
#[expect(unsafe_code, reason = "the control register can only be reached by instruction; only rounding bits change")]
fn flush() {
    const FZ: u64 = 1 << 24;
    let mut control: u64;
    // SAFETY: FPCR is readable and writable from user code; only this thread's register changes.
    unsafe {
        std::arch::asm!("mrs {}, fpcr", out(reg) control, options(nomem, nostack, preserves_flags));
        control |= FZ;
        std::arch::asm!("msr fpcr, {}", in(reg) control, options(nomem, nostack, preserves_flags));
    }
}

/// # Real-time
/// Does nothing.
#[cfg(not(any(target_arch = "x86_64", target_arch = "aarch64")))]
fn flush() {}

#[cfg(test)]
mod tests {
    use std::hint::black_box;

    #[test]
    #[cfg(any(target_arch = "x86_64", target_arch = "aarch64"))]
    fn denormals_become_zero_on_the_thread_that_asked() {
        let halved = || black_box(black_box(f32::MIN_POSITIVE) / black_box(2.0));
        let here = std::thread::spawn(move || (halved(), super::flush_denormals(), halved()));
        let (before, (), after) = here.join().expect("nothing in there panics");
        assert!(before > 0.0, "a denormal to begin with");
        assert_eq!(after.to_bits(), 0);
    }
}
