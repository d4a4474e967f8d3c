//! When to give a stream up and when to try again: a state machine over counts, without a clock.

use std::time::Duration;

use crate::callback::Pulse;
use crate::event::Why;

/// More errors than this since the last block, and no block for this long, mean a dead stream. After a server's death
/// there were 25,000 errors in 100 ms; but a stream just opened may also fail some hundred times in its first 50 ms and
/// then run well, so errors alone mean nothing.
const TOO_MANY_ERRORS: u64 = 5;
const FAILING: Duration = Duration::from_millis(300);
/// No block for so long: the stream has died without a word. The longest block there is lasts 0.2 s.
const STALLED: Duration = Duration::from_secs(1);
/// The first try comes at once after a loss; then each wait is twice the one before.
const FIRST_WAIT: Duration = Duration::from_millis(100);
const LONGEST_WAIT: Duration = Duration::from_secs(5);
/// A stream that lasted so long was a good one: the next loss starts with the shortest wait.
const PROVEN: Duration = Duration::from_secs(5);

/// What the supervisor is told.
#[derive(Clone, Debug)]
pub(crate) enum Input {
    /// The device is wanted now (or wanted differently).
    Wanted,
    /// Opening worked.
    Opened,
    /// Opening did not work.
    Refused,
    /// What the callbacks counted since the stream was opened.
    Counted(Pulse),
}

/// What it asks for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Effect {
    Nothing,
    /// Open the device.
    Open,
    /// Drop the stream; it is lost.
    Close(Why),
}

#[derive(Clone, Debug)]
enum State {
    Waiting { until: Duration },
    Opening,
    Running(Running),
}

#[derive(Clone, Debug)]
struct Running {
    since: Duration,
    blocks: u64,
    last_block: Duration,
    errors: u64,
}

/// Watches one direction.
#[derive(Clone, Debug)]
pub(crate) struct Supervisor {
    state: State,
    wait: Duration,
}

impl Supervisor {
    pub(crate) const fn new() -> Self {
        Self { state: State::Waiting { until: Duration::ZERO }, wait: FIRST_WAIT }
    }

    /// One step. Called often; `now` counts from any fixed moment.
    pub(crate) fn update(&mut self, input: &Input, now: Duration) -> Effect {
        match input {
            Input::Wanted => {
                self.wait = FIRST_WAIT;
                self.state = State::Waiting { until: now };
                Effect::Nothing
            }
            Input::Opened => {
                let running = Running { since: now, blocks: 0, last_block: now, errors: 0 };
                self.state = State::Running(running);
                Effect::Nothing
            }
            Input::Refused => {
                self.wait_longer(now);
                Effect::Nothing
            }
            Input::Counted(pulse) => self.look(*pulse, now),
        }
    }

    fn look(&mut self, pulse: Pulse, now: Duration) -> Effect {
        match &mut self.state {
            State::Waiting { until } if now >= *until => {
                self.state = State::Opening;
                Effect::Open
            }
            State::Waiting { .. } | State::Opening => Effect::Nothing,
            State::Running(running) => {
                let since = running.since;
                let Some(why) = running.dead(pulse, now) else { return Effect::Nothing };
                if now.saturating_sub(since) >= PROVEN {
                    self.wait = FIRST_WAIT;
                }
                self.wait_longer(now);
                Effect::Close(why)
            }
        }
    }

    fn wait_longer(&mut self, now: Duration) {
        self.state = State::Waiting { until: now + self.wait };
        self.wait = (self.wait * 2).min(LONGEST_WAIT);
    }
}

impl Running {
    fn dead(&mut self, pulse: Pulse, now: Duration) -> Option<Why> {
        if pulse.gone {
            return Some(Why::Gone);
        }
        if pulse.blocks > self.blocks {
            (self.blocks, self.errors, self.last_block) = (pulse.blocks, pulse.errors, now);
        }
        let still = now.saturating_sub(self.last_block);
        if still >= FAILING && pulse.errors > self.errors + TOO_MANY_ERRORS {
            return Some(Why::Failing);
        }
        (still >= STALLED).then_some(Why::Stalled)
    }
}
