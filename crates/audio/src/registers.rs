//! The same arithmetic in wider registers, where the processor has them.
//!
//! The program is built for every x86-64, whose registers hold four numbers; most processors have some that hold eight.
//! Only the width differs: nothing is fused or reordered, so that every machine makes the same samples.

/// Something to be computed. `run` must be `#[inline(always)]`, and so must all it calls, or it stays narrow.
pub(crate) trait Work {
    /// Does it.
    ///
    /// # Real-time
    /// As the work itself.
    fn run(self);
}

/// The registers to compute in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Registers {
    /// Those every processor has.
    Common,
    /// Those of AVX2, which this processor was found to have: made by [`Registers::widest`] only.
    #[cfg(target_arch = "x86_64")]
    Wide(Found),
}

/// Proof that the processor was asked.
#[cfg(target_arch = "x86_64")]
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Found(());

impl Registers {
    /// The widest this processor has. Asks it, so not on the audio thread.
    pub(crate) fn widest() -> Self {
        #[cfg(target_arch = "x86_64")]
        if std::arch::is_x86_feature_detected!("avx2") {
            return Self::Wide(Found(()));
        }
        Self::Common
    }

    /// Does `work` in these registers.
    ///
    /// # Real-time
    /// As the work itself.
    #[cfg_attr(target_arch = "x86_64", expect(unsafe_code, reason = "the compiler can't see what the processor said"))]
    pub(crate) fn run(self, work: impl Work) {
        match self {
            Self::Common => work.run(),
            #[cfg(target_arch = "x86_64")]
            // SAFETY: `Found` is made only where the processor was found to have AVX2.
            Self::Wide(Found(())) => unsafe { wide(work) },
        }
    }
}

/// # Real-time
/// As the work itself.
#[cfg(target_arch = "x86_64")]
#[target_feature(enable = "avx2")]
fn wide(work: impl Work) {
    work.run();
}
