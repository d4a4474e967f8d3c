//! What each finger does from one fingering to the next.

use sixrung_lesson::Finger;

use super::features::Features;
use super::grip::{Grip, Hold};
use super::neck::wire_mm;

/// What a finger does in a change, in the order in which it is worth saying: what may stay, what leads, what is laid
/// across, what has to travel, what joins, what leaves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FingerMove {
    /// Same finger, string and fret: it is not lifted (an anchor). Two barres of one finger at one fret count as
    /// staying where they have strings in common, so that `from` and `to` may differ in their ends.
    Stays {
        /// Before.
        from: Hold,
        /// After.
        to: Hold,
    },
    /// Same finger and string, another fret: it keeps touching its string and leads the hand (a guide). A barre
    /// slides to any barre that has strings in common with it.
    Slides {
        /// Before.
        from: Hold,
        /// After.
        to: Hold,
    },
    /// It goes to another string, or from its tip to lying flat, or back.
    Moves {
        /// Before.
        from: Hold,
        /// After.
        to: Hold,
    },
    /// It was free before.
    Placed {
        /// After.
        to: Hold,
    },
    /// It is free after.
    Lifted {
        /// Before.
        from: Hold,
    },
}

impl FingerMove {
    /// What the finger holds before the change.
    #[must_use]
    pub const fn before(&self) -> Option<&Hold> {
        match self {
            Self::Stays { from, .. } | Self::Slides { from, .. } | Self::Moves { from, .. } | Self::Lifted { from } => {
                Some(from)
            }
            Self::Placed { .. } => None,
        }
    }

    /// What the finger holds after the change.
    #[must_use]
    pub const fn after(&self) -> Option<&Hold> {
        match self {
            Self::Stays { to, .. } | Self::Slides { to, .. } | Self::Moves { to, .. } | Self::Placed { to } => Some(to),
            Self::Lifted { .. } => None,
        }
    }

    /// Whether a finger that was not across strings is laid across them: the barre is entered.
    #[must_use]
    pub fn enters_barre(&self) -> bool {
        self.after().is_some_and(Hold::is_barre) && !self.before().is_some_and(Hold::is_barre)
    }

    const fn importance(&self) -> u8 {
        match self {
            Self::Stays { .. } => 0,
            Self::Slides { .. } => 1,
            Self::Moves { to, .. } | Self::Placed { to } if to.is_barre() => 2,
            Self::Moves { .. } => 3,
            Self::Placed { .. } => 4,
            Self::Lifted { .. } => 5,
        }
    }
}

/// One change of fingering, finger by finger.
#[derive(Clone, Debug, PartialEq)]
pub struct ChangeMoves {
    /// Each finger in use before or after, the most important to say first; of equally important ones the thumb
    /// first, then 1 to 4.
    pub fingers: Vec<(Finger, FingerMove)>,
    /// How far the hand goes along the neck, in millimetres; towards the body is positive. Zero where both
    /// fingerings lie within one position.
    pub shift_mm: f64,
}

impl ChangeMoves {
    /// Looks at a change of fingering. Both count their frets from the same capo.
    #[must_use]
    pub fn between(from: &Grip, to: &Grip, capo: u8) -> Self {
        const ALL: [Finger; 5] = [Finger::Thumb, Finger::Index, Finger::Middle, Finger::Ring, Finger::Little];
        let one = |finger: Finger| Some((finger, finger_move(from.hold(finger), to.hold(finger))?));
        let mut fingers: Vec<(Finger, FingerMove)> = ALL.into_iter().filter_map(one).collect();
        fingers.sort_by_key(|(_, moved)| moved.importance());
        Self { fingers, shift_mm: shift_mm(from, to, capo) }
    }

    /// The change as counts.
    #[must_use]
    pub fn features(&self) -> Features {
        let mut features = Features { shift_mm: self.shift_mm.abs(), ..Features::default() };
        for (_, moved) in &self.fingers {
            match moved {
                FingerMove::Stays { .. } => features.anchors += 1,
                FingerMove::Slides { .. } => features.guides += 1,
                FingerMove::Moves { .. } => features.new_strings += 1,
                FingerMove::Placed { .. } => features.placed += 1,
                FingerMove::Lifted { .. } => features.lifted += 1,
            }
            features.barres_entered += u8::from(moved.enters_barre());
        }
        features
    }

    /// How the fingers that go to other strings go, where there are two or more and they keep the form they make: so
    /// many strings towards the lightest, and so many frets towards the body. "They move together" is then the truth.
    #[must_use]
    pub fn kept_form(&self) -> Option<(i16, i16)> {
        let by = |from: usize, to: usize| i16::try_from(to).ok()?.checked_sub(i16::try_from(from).ok()?);
        let mut ways = self.fingers.iter().filter_map(|(_, moved)| match moved {
            FingerMove::Moves { from, to } => Some((from, to)),
            _ => None,
        });
        let way = |(from, to): (&Hold, &Hold)| {
            let strings = by(from.from, to.from)?;
            (by(from.to, to.to)? == strings).then_some((strings, i16::from(to.fret) - i16::from(from.fret)))
        };
        let first = way(ways.next()?)?;
        let second = way(ways.next()?)?;
        (first == second && ways.all(|next| way(next) == Some(first))).then_some(first)
    }
}

fn finger_move(from: Option<&Hold>, to: Option<&Hold>) -> Option<FingerMove> {
    let (from, to) = match (from, to) {
        (None, None) => return None,
        (None, Some(to)) => return Some(FingerMove::Placed { to: *to }),
        (Some(from), None) => return Some(FingerMove::Lifted { from: *from }),
        (Some(from), Some(to)) => (*from, *to),
    };
    let both_barres = from.is_barre() && to.is_barre();
    let same_string = from.is_same_strings(&to) || both_barres && from.shares_a_string(&to);
    Some(match (same_string, from.fret == to.fret) {
        (true, true) => FingerMove::Stays { from, to },
        (true, false) => FingerMove::Slides { from, to },
        (false, _) => FingerMove::Moves { from, to },
    })
}

fn shift_mm(from: &Grip, to: &Grip, capo: u8) -> f64 {
    let (Some(before), Some(after)) = (from.position(), to.position()) else { return 0.0 };
    let wire = |fret: u8| wire_mm(fret.saturating_add(capo));
    if before.end() < after.start() {
        wire(*after.start()) - wire(*before.end())
    } else if after.end() < before.start() {
        wire(*after.end()) - wire(*before.start())
    } else {
        0.0
    }
}
