//! The rules of the climb in a file: only those that a teacher fixed.

use serde::{Deserialize, Serialize};
use sixrung_practice::{Feedback, HearFirst, Offers, Policy, SessionEnd, Start};

/// Writes a form whose every field is optional, how it is taken from two policies, and how it is put over one. The
/// fields' names are the policy's.
macro_rules! policy_form {
    ($($field:ident: $form:ty),* $(,)?) => {
        /// What is fixed.
        #[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
        #[serde(rename = "policy", deny_unknown_fields)]
        pub(super) struct PolicyForm {
            $(#[serde(default, skip_serializing_if = "Option::is_none")] $field: Option<$form>,)*
        }

        impl PolicyForm {
            /// What `policy` fixes beside what is usual.
            pub(super) fn of(policy: &Policy, usual: &Policy) -> Self {
                // Every field is named, so that a new one can't be forgotten here.
                let Policy { $($field),* } = *policy;
                Self { $($field: (usual.$field != $field).then(|| <$form>::from($field)),)* }
            }

            /// The usual policy with what is fixed.
            pub(super) fn over(self, usual: &Policy) -> Policy {
                Policy { $($field: self.$field.map_or(usual.$field, Into::into),)* }
            }
        }
    };
}

policy_form! {
    hear_first: HearFirstWord,
    start: StartWord,
    up_after: u8,
    recheck_up_after: u8,
    down_after: u8,
    propose_after_falls: u8,
    offers: OffersForm,
    rest_after_passes: u8,
    rest_after_falls: u8,
    least_success: f64,
    success_window: u8,
    overlearn: f64,
    rest_between_passes_s: u8,
    run_every_passes: u8,
    feedback: FeedbackWord,
    session_end: SessionEndWord,
    next_day_steps_back: u8,
    hold_after_s: i64,
    new_sitting_after_s: i64,
}

/// A choice as a word in a file, both ways.
macro_rules! word {
    ($word:ident of $choice:ty { $($name:ident),* $(,)? }) => {
        #[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
        #[serde(rename_all = "snake_case")]
        pub(super) enum $word {
            $($name,)*
        }

        impl From<$choice> for $word {
            fn from(choice: $choice) -> Self {
                match choice {
                    $(<$choice>::$name => Self::$name,)*
                }
            }
        }

        impl From<$word> for $choice {
            fn from(word: $word) -> Self {
                match word {
                    $($word::$name => Self::$name,)*
                }
            }
        }
    };
}

word!(HearFirstWord of HearFirst { Never, NewRung, EverySitting });
word!(StartWord of Start { First, Probe });
word!(FeedbackWord of Feedback { WorstSpot, ShareOnly });
word!(SessionEndWord of SessionEnd { FirstLearned, Anywhere });

/// What may be offered after falls.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename = "offers", deny_unknown_fields)]
pub(super) struct OffersForm {
    worst_bars: bool,
    half_rung: bool,
    stand_in: bool,
}

impl From<Offers> for OffersForm {
    fn from(Offers { worst_bars, half_rung, stand_in }: Offers) -> Self {
        Self { worst_bars, half_rung, stand_in }
    }
}

impl From<OffersForm> for Offers {
    fn from(OffersForm { worst_bars, half_rung, stand_in }: OffersForm) -> Self {
        Self { worst_bars, half_rung, stand_in }
    }
}
