//! What takes seconds (reading a file, slowing a passage) is done on a thread of its own, one thing at a time.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::thread::{self, JoinHandle};

use crossbeam_channel::{Receiver, Sender, bounded};
use sixrung_audio::Song;
use sixrung_lesson::Tempo;
use sixrung_song::{Job, Passage, once, slow};

use super::{Loaded, Marks};
use crate::stand::Note;

/// The progress is told in steps of this many to the whole.
const STEPS: f32 = 1000.0;

/// When the work breaks down.
const BROKE_DOWN: &str = "this recording can't be worked on\nhint: save it anew as WAV, or take anchors away";

/// Something to do.
#[derive(Debug)]
pub(crate) enum Order {
    /// Reads a file and looks for beats, near this tempo.
    Read(PathBuf, Option<Tempo>),
    /// Slows a passage.
    Slow { sound: Arc<Loaded>, marks: Marks, passage: Passage },
}

/// What came of it.
#[derive(Debug)]
pub(crate) enum Answer {
    /// A file was read.
    Read(Arc<Loaded>),
    /// A passage was slowed.
    Slowed(Passage, Marks, Arc<Song>),
    /// It can't be done.
    Failed(Note),
    /// It was told to stop.
    Stopped,
}

/// Shared with the thread: whether to stop, and how far it is.
#[derive(Default)]
struct Signal {
    stop: AtomicBool,
    done: AtomicU32,
}

impl Signal {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share in steps")]
    fn tell(&self, share: f32) -> bool {
        self.done.store((share.clamp(0.0, 1.0) * STEPS) as u32, Ordering::Relaxed);
        !self.stop.load(Ordering::Relaxed)
    }
}

/// The thread `song`, or, in tests, whoever orders.
pub(crate) struct Worker {
    place: Place,
    signal: Arc<Signal>,
    busy: bool,
}

enum Place {
    /// One order and one answer at most are on their way: an order is only given when none is.
    Apart { orders: Sender<Order>, answers: Receiver<Answer>, thread: Option<JoinHandle<()>> },
    /// Done at once.
    Here(Option<Answer>),
}

impl Worker {
    /// Starts the thread. `wake` is called when there is an answer.
    pub(crate) fn apart(wake: impl Fn() + Send + 'static) -> std::io::Result<Self> {
        let (orders, orders_out) = bounded::<Order>(1);
        let (answers_in, answers) = bounded(1);
        let signal = Arc::new(Signal::default());
        let shared = Arc::clone(&signal);
        let thread = thread::Builder::new().name("song".to_owned()).spawn(move || {
            for order in orders_out {
                // What is in a file is nobody's promise: should it bring the work down, the thread lives on.
                let answer = catch_unwind(AssertUnwindSafe(|| carry_out(order, &shared)));
                let answer = answer.unwrap_or_else(|_| Answer::Failed(note(BROKE_DOWN)));
                if answers_in.send(answer).is_err() {
                    return;
                }
                wake();
            }
        })?;
        Ok(Self { place: Place::Apart { orders, answers, thread: Some(thread) }, signal, busy: false })
    }

    /// Works here.
    pub(crate) fn here() -> Self {
        Self { place: Place::Here(None), signal: Arc::default(), busy: false }
    }

    /// Whether something is being done.
    pub(crate) const fn is_busy(&self) -> bool {
        self.busy
    }

    /// How far it is, 0 to 1.
    #[expect(clippy::cast_precision_loss, reason = "a share in steps")]
    pub(crate) fn share(&self) -> f32 {
        self.signal.done.load(Ordering::Relaxed) as f32 / STEPS
    }

    /// Gives an order; does nothing while another is being carried out.
    pub(crate) fn order(&mut self, order: Order) {
        if self.busy {
            return;
        }
        self.signal.stop.store(false, Ordering::Relaxed);
        self.signal.done.store(0, Ordering::Relaxed);
        self.busy = match &mut self.place {
            Place::Apart { orders, .. } => orders.try_send(order).is_ok(),
            Place::Here(answer) => {
                *answer = Some(carry_out(order, &self.signal));
                true
            }
        };
    }

    /// Has what is being done stopped; it still answers.
    pub(crate) fn stop(&self) {
        self.signal.stop.store(true, Ordering::Relaxed);
    }

    /// What came of the last order, once.
    pub(crate) fn answer(&mut self) -> Option<Answer> {
        let answer = match &mut self.place {
            Place::Apart { answers, .. } => answers.try_recv().ok(),
            Place::Here(answer) => answer.take(),
        };
        self.busy = self.busy && answer.is_none();
        answer
    }
}

impl Drop for Worker {
    fn drop(&mut self) {
        self.stop();
        if let Place::Apart { orders, answers, thread } = &mut self.place {
            // Hanging up is how the thread learns that it is over.
            *orders = bounded(0).0;
            *answers = bounded(0).1;
            if let Some(thread) = thread.take() {
                drop(thread.join());
            }
        }
    }
}

fn carry_out(order: Order, signal: &Signal) -> Answer {
    let mut progress = |share: f32| signal.tell(share);
    match order {
        Order::Read(path, near) => match Loaded::read(&path, near, &mut progress) {
            Ok(loaded) => Answer::Read(Arc::new(loaded)),
            Err(error) if error.is_stopped() => Answer::Stopped,
            Err(error) => Answer::Failed(Note { text: error.message(), hint: error.hint().to_owned() }),
        },
        Order::Slow { sound, marks, passage } => slowed(&sound, marks, passage, &mut progress),
    }
}

fn slowed(sound: &Loaded, marks: Marks, passage: Passage, progress: &mut dyn FnMut(f32) -> bool) -> Answer {
    let map = match marks.map() {
        Ok(map) => map,
        Err(error) => return Answer::Failed(note(&error.to_string())),
    };
    let semitones = f64::from(marks.semitones);
    let job = Job { sound: &sound.frames, rate: sound.rate, map: &map, passage, semitones };
    let mut stopped = false;
    let slowed = slow(&job, &mut |share| {
        let goes_on = progress(share);
        stopped |= !goes_on;
        goes_on
    });
    match slowed {
        Ok(slowed) => {
            let (lead, mut frames) = once(slowed);
            let gain = sound.gain();
            frames.as_flattened_mut().iter_mut().for_each(|sample| *sample *= gain);
            Answer::Slowed(passage, marks, Arc::new(Song::new(lead, frames)))
        }
        Err(_) if stopped => Answer::Stopped,
        Err(error) => Answer::Failed(note(&error.to_string())),
    }
}

/// A message and its hint, as errors write them.
pub(crate) fn note(error: &str) -> Note {
    let (text, hint) = error.split_once("\nhint: ").unwrap_or((error, ""));
    Note { text: text.to_owned(), hint: hint.to_owned() }
}
