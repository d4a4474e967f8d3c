//! MIDI switches and their commands: those the player has set come before those that are there from the start.

use sixrung_devices::{PedalKind, PedalPress};

use super::CommandId;

/// From the start, on any channel: what sustain, sostenuto and soft pedals send. 64, 66 and 67 are theirs by the table
/// of control changes in the MIDI 1.0 Detailed Specification (from memory). That the sustain pedal goes forward and the
/// two beside it go back has no source: foot switches come set to the sustain pedal's number (common practice).
const FROM_THE_START: [(PedalKind, u8, CommandId); 3] = [
    (PedalKind::Control, 64, CommandId::Forward),
    (PedalKind::Control, 66, CommandId::Back),
    (PedalKind::Control, 67, CommandId::Back),
];

/// A switch that has a command.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Switch {
    /// The kind of message it sends.
    pub kind: PedalKind,
    /// Controller, note or program.
    pub number: u8,
    /// The channel, from 0, or any.
    pub channel: Option<u8>,
}

/// Switches of the player's own, each with its command.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PedalMap(Vec<(PedalPress, CommandId)>);

impl PedalMap {
    /// The command of a switch, if it has one.
    #[must_use]
    pub fn command(&self, press: PedalPress) -> Option<CommandId> {
        let own = self.0.iter().find(|(set, _)| *set == press).map(|(_, id)| *id);
        let of_kind = || self.still_there().find(|(kind, number, _)| (*kind, *number) == (press.kind, press.number));
        own.or_else(|| of_kind().map(|(.., id)| id))
    }

    /// The switches of a command.
    pub fn switches_of(&self, id: CommandId) -> impl Iterator<Item = Switch> + '_ {
        let own = self
            .0
            .iter()
            .map(|(press, id)| (Switch { kind: press.kind, number: press.number, channel: Some(press.channel) }, *id));
        let others = self.still_there().map(|(kind, number, id)| (Switch { kind, number, channel: None }, id));
        own.chain(others).filter(move |(_, of)| *of == id).map(|(switch, _)| switch)
    }

    /// A switch belongs to a command from now on, and to no other.
    pub fn set(&mut self, id: CommandId, press: PedalPress) {
        self.0.retain(|(set, _)| *set != press);
        if self.command(press) != Some(id) {
            self.0.push((press, id));
        }
    }

    /// Whether nothing was set.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// As it is kept: a line a switch, the channel counted from 1.
    #[must_use]
    pub fn to_text(&self) -> String {
        let line = |(press, id): &(PedalPress, CommandId)| {
            format!("{} {} {} {id:?}", word(press.kind), press.number, press.channel + 1)
        };
        self.0.iter().map(line).collect::<Vec<_>>().join("\n")
    }

    /// From what was kept; lines that mean nothing are left out.
    #[must_use]
    pub fn from_text(text: &str) -> Self {
        let mut map = Self::default();
        for (press, id) in text.lines().filter_map(read) {
            map.set(id, press);
        }
        map
    }

    /// What was there from the start and lost its number to nothing the player has set, on whatever channel: else one
    /// switch would be shown at two commands.
    fn still_there(&self) -> impl Iterator<Item = (PedalKind, u8, CommandId)> + '_ {
        let is_set = |kind, number| self.0.iter().any(|(set, _)| (set.kind, set.number) == (kind, number));
        FROM_THE_START.into_iter().filter(move |(kind, number, _)| !is_set(*kind, *number))
    }
}

const KINDS: [PedalKind; 3] = [PedalKind::Control, PedalKind::Note, PedalKind::Program];

/// A kind as it is kept.
const fn word(kind: PedalKind) -> &'static str {
    match kind {
        PedalKind::Control => "CC",
        PedalKind::Note => "note",
        PedalKind::Program => "PC",
    }
}

fn read(line: &str) -> Option<(PedalPress, CommandId)> {
    let words: Vec<&str> = line.split_whitespace().collect();
    let [kind, number, channel, command] = words[..] else { return None };
    let kind = KINDS.into_iter().find(|known| word(*known) == kind)?;
    let number = number.parse().ok().filter(|number| *number < 128_u8)?;
    let channel = channel.parse().ok().filter(|channel| (1..=16_u8).contains(channel))? - 1;
    Some((PedalPress { kind, channel, number }, CommandId::from_word(command)?))
}

#[cfg(test)]
mod tests {
    use super::{PedalKind, PedalMap, PedalPress, Switch};
    use crate::commands::CommandId;

    const fn control(channel: u8, number: u8) -> PedalPress {
        PedalPress { kind: PedalKind::Control, channel, number }
    }

    #[test]
    fn with_nothing_set_the_three_pedals_of_a_keyboard_work_on_every_channel_and_nothing_else_does() {
        let map = PedalMap::default();
        assert!(map.is_empty());
        for channel in 0..16 {
            for number in 0..128 {
                let expected = match number {
                    64 => Some(CommandId::Forward),
                    66 | 67 => Some(CommandId::Back),
                    _ => None,
                };
                assert_eq!(map.command(control(channel, number)), expected, "controller {number}");
                for kind in [PedalKind::Note, PedalKind::Program] {
                    assert_eq!(map.command(PedalPress { kind, channel, number }), None, "{kind:?} {number}");
                }
            }
        }
    }

    #[test]
    fn a_message_has_one_command() {
        let mut map = PedalMap::default();
        map.set(CommandId::Slower, control(2, 80));
        map.set(CommandId::Faster, control(2, 80));
        assert_eq!(map.command(control(2, 80)), Some(CommandId::Faster));
        assert_eq!(map.command(control(3, 80)), None, "another channel is another message");
        assert_eq!(map.switches_of(CommandId::Slower).count(), 0);
        let set = Switch { kind: PedalKind::Control, number: 80, channel: Some(2) };
        assert_eq!(map.switches_of(CommandId::Faster).collect::<Vec<_>>(), [set]);
        // One that was there from the start is taken away there.
        map.set(CommandId::Slower, control(0, 64));
        assert_eq!(map.command(control(0, 64)), Some(CommandId::Slower));
        assert_eq!(map.command(control(1, 64)), None);
        assert_eq!(map.switches_of(CommandId::Forward).count(), 0);
    }

    #[test]
    fn set_back_to_what_it_was_a_switch_is_as_it_was() {
        let mut map = PedalMap::default();
        map.set(CommandId::Forward, control(5, 64));
        assert!(map.is_empty());
        map.set(CommandId::Back, control(5, 64));
        map.set(CommandId::Forward, control(5, 64));
        assert_eq!(map, PedalMap::default());
    }

    #[test]
    fn what_is_kept_comes_back_and_what_means_nothing_is_left_out() {
        let mut map = PedalMap::default();
        for (place, kind) in (0_u8..).zip([PedalKind::Control, PedalKind::Note, PedalKind::Program]) {
            for number in [0, 64, 127] {
                map.set(CommandId::Quit, PedalPress { kind, channel: 15 - place, number });
            }
        }
        map.set(CommandId::Tuner, control(0, 66));
        assert_eq!(PedalMap::from_text(&map.to_text()), map);
        assert_eq!(map.to_text().lines().next(), Some("CC 0 16 Quit"));
        let odd = "CC 128 1 Back\nCC 5 17 Back\nCC 5 0 Back\nCC -1 1 Back\nbend 5 1 Back\nCC 5 1 Nothing\nCC 5 1\n\nCC";
        assert_eq!(PedalMap::from_text(odd), PedalMap::default());
        let newer = PedalMap::from_text("CC 20 1 Slower\nbend 5 1 Back\nCC 21 1 Faster more\nPC 3 2 Back");
        assert_eq!(newer.to_text(), "CC 20 1 Slower\nPC 3 2 Back");
    }
}
