//! What a MIDI message says of a foot switch: gone down, come up, or nothing.

/// Which kind of message a switch sends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PedalKind {
    /// A Control Change: the number is the controller's.
    Control,
    /// A note: the number is the note's.
    Note,
    /// A Program Change: the number is the program's, as sent.
    Program,
}

/// A switch stepped on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PedalPress {
    /// The kind of message.
    pub kind: PedalKind,
    /// The channel, from 0 to 15; players count from 1.
    pub channel: u8,
    /// Controller, note or program, from 0 to 127.
    pub number: u8,
}

/// The least value of a controller that is a switch pressed: "≤ 63 off, ≥ 64 on", as the table of controllers in the
/// MIDI 1.0 Detailed Specification says of the pedals, 64 to 69 (from memory).
const DOWN: u8 = 64;
/// Data bytes lie below, status bytes from here up (the same specification, from memory).
const STATUS: u8 = 0x80;

/// What happened to a switch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Foot {
    Down(PedalPress),
    Up(PedalPress),
}

/// Reads one whole message. What is no switch's, or has another length than its kind has, says nothing.
fn read(message: &[u8]) -> Option<Foot> {
    let (status, data) = message.split_first()?;
    if data.iter().any(|byte| *byte >= STATUS) {
        return None;
    }
    let press = |kind, number| PedalPress { kind, channel: status & 0x0F, number };
    let foot = |is_down| if is_down { Foot::Down } else { Foot::Up };
    Some(match (status & 0xF0, data) {
        (0x80, [note, _]) => Foot::Up(press(PedalKind::Note, *note)),
        (0x90, [note, velocity]) => foot(*velocity > 0)(press(PedalKind::Note, *note)),
        (0xB0, [controller, value]) => foot(*value >= DOWN)(press(PedalKind::Control, *controller)),
        (0xC0, [program]) => Foot::Down(press(PedalKind::Program, *program)),
        _ => return None,
    })
}

/// The value of a switch that is down as far as it goes.
const FULL: u8 = 127;

/// The switches of one port: which are down, so that one held, or a pedal that sends a row of values on its way down,
/// acts once.
#[derive(Debug, Default)]
pub(super) struct Switches {
    /// A bit a number, by channel.
    controls: [u128; 16],
    notes: [u128; 16],
    /// The controller that last went all the way down, and sent nothing since.
    full: Option<PedalPress>,
}

impl Switches {
    /// The press that a message is, if it is one. A program change is one each time: it has no release.
    pub(super) fn press(&mut self, message: &[u8]) -> Option<PedalPress> {
        let foot = read(message)?;
        let (Foot::Down(press) | Foot::Up(press)) = foot;
        let held = match press.kind {
            PedalKind::Control => &mut self.controls,
            PedalKind::Note => &mut self.notes,
            PedalKind::Program => return Some(press),
        };
        let (held, bit) = (held.get_mut(usize::from(press.channel))?, 1_u128 << (press.number % STATUS));
        let was_down = *held & bit != 0;
        match foot {
            Foot::Down(_) => *held |= bit,
            Foot::Up(_) => *held &= !bit,
        }
        // A pedal on its way says nothing twice: the full value once more is a switch that never says it came up.
        let is_full = press.kind == PedalKind::Control && message.get(2) == Some(&FULL);
        let again = is_full && self.full == Some(press);
        self.full = is_full.then_some(press);
        (matches!(foot, Foot::Down(_)) && (!was_down || again)).then_some(press)
    }
}

#[cfg(test)]
mod tests {
    use super::{Foot, PedalKind, PedalPress, Switches, read};

    const fn press(kind: PedalKind, channel: u8, number: u8) -> PedalPress {
        PedalPress { kind, channel, number }
    }

    #[test]
    fn each_kind_of_message_is_read_by_its_own_rule() {
        use PedalKind::{Control, Note, Program};
        let rows: [(&[u8], Option<Foot>); 20] = [
            (&[0xB0, 64, 127], Some(Foot::Down(press(Control, 0, 64)))),
            (&[0xB0, 64, 64], Some(Foot::Down(press(Control, 0, 64)))),
            (&[0xB0, 64, 63], Some(Foot::Up(press(Control, 0, 64)))),
            (&[0xBF, 67, 0], Some(Foot::Up(press(Control, 15, 67)))),
            (&[0x92, 60, 1], Some(Foot::Down(press(Note, 2, 60)))),
            (&[0x92, 60, 0], Some(Foot::Up(press(Note, 2, 60)))),
            (&[0x82, 60, 90], Some(Foot::Up(press(Note, 2, 60)))),
            (&[0xC5, 7], Some(Foot::Down(press(Program, 5, 7)))),
            // Pressure, bend, and what belongs to no channel are no switch.
            (&[0xA0, 60, 90], None),
            (&[0xD0, 90], None),
            (&[0xE0, 0, 127], None),
            (&[0xF0, 64, 127], None),
            (&[0xF8], None),
            (&[0xFE], None),
            // Wrong lengths, and status where data belongs.
            (&[], None),
            (&[0xB0, 64], None),
            (&[0xB0, 64, 127, 0], None),
            (&[0xC5, 7, 7], None),
            (&[0xB0, 0x80, 127], None),
            (&[64, 127, 0], None),
        ];
        for (message, expected) in rows {
            assert_eq!(read(message), expected, "{message:02X?}");
        }
    }

    #[test]
    fn no_status_with_any_length_or_data_panics_and_only_the_right_length_is_read() {
        for status in 0x00..=0xFF_u8 {
            for data in [0x00, 0x3F, 0x40, 0x7F, 0x80, 0xFF] {
                let bytes = [status, data, data, data];
                for length in 0..=bytes.len() {
                    let message = &bytes[..length];
                    let expected_length = match status & 0xF0 {
                        0x80 | 0x90 | 0xB0 => Some(3),
                        0xC0 => Some(2),
                        _ => None,
                    };
                    let is_read = expected_length == Some(length) && data < 0x80;
                    assert_eq!(read(message).is_some(), is_read, "{message:02X?}");
                    let mut switches = Switches::default();
                    let first = switches.press(message);
                    let second = switches.press(message);
                    assert_eq!(first.is_some(), matches!(read(message), Some(Foot::Down(_))), "{message:02X?}");
                    // Once more without a release: only a program change, or a controller at its fullest, is another press.
                    let is_full = data == 0x7F;
                    let again = first.filter(|press| match press.kind {
                        PedalKind::Program => true,
                        PedalKind::Control => is_full,
                        PedalKind::Note => false,
                    });
                    assert_eq!(second, again, "{message:02X?}");
                }
            }
        }
    }

    #[test]
    fn a_switch_held_acts_once_until_it_is_released() {
        let mut switches = Switches::default();
        let mut presses = |messages: &[[u8; 3]]| messages.iter().filter_map(|message| switches.press(message)).count();
        // A pedal that sends its way: down, up and half down again.
        assert_eq!(presses(&[[0xB0, 64, 20], [0xB0, 64, 70], [0xB0, 64, 100], [0xB0, 64, 127]]), 1);
        assert_eq!(presses(&[[0xB0, 64, 90], [0xB0, 64, 40], [0xB0, 64, 66]]), 1);
        // Another channel, another controller, a note of the same number: each its own switch.
        assert_eq!(presses(&[[0xB1, 64, 127], [0xB0, 67, 127], [0x90, 64, 100]]), 3);
        assert_eq!(presses(&[[0xB1, 64, 126], [0xB0, 67, 100], [0x90, 64, 100]]), 0);
        // A switch that sends the full value at each step, and never that it came up.
        assert_eq!(presses(&[[0xB0, 80, 127], [0xB0, 80, 127], [0xB0, 80, 127]]), 3);
        // Both ways a note is released.
        assert_eq!(presses(&[[0x90, 64, 0], [0x90, 64, 100], [0x80, 64, 0], [0x90, 64, 1]]), 2);
    }
}
