//! Keys the player has set: they come before the table's own. A page-turn pedal that sends other keys is taught here.

use egui::{Context, Id, Key};

use super::{CommandId, digit};

/// Keys of the player's own, each with its command.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct KeyMap(Vec<(Key, CommandId)>);

impl KeyMap {
    /// The command of a key, where the player has set one.
    #[must_use]
    pub fn command(&self, key: Key) -> Option<CommandId> {
        self.0.iter().find(|(set, _)| *set == key).map(|(_, id)| *id)
    }

    /// The keys the player has set for a command.
    pub fn keys_of(&self, id: CommandId) -> impl Iterator<Item = Key> + '_ {
        self.0.iter().filter(move |(_, set)| *set == id).map(|(key, _)| *key)
    }

    /// A key belongs to a command from now on. Digits choose what is listed and Escape leaves: they can't be set.
    pub fn set(&mut self, id: CommandId, key: Key) {
        if key != Key::Escape && digit(key).is_none() {
            self.0.retain(|(set, _)| *set != key);
            self.0.push((key, id));
        }
    }

    /// Whether nothing was set.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// As it is kept: a line a key.
    #[must_use]
    pub fn to_text(&self) -> String {
        self.0.iter().map(|(key, id)| format!("{} {id:?}", key.name())).collect::<Vec<_>>().join("\n")
    }

    /// From what was kept; lines that mean nothing are left out.
    #[must_use]
    pub fn from_text(text: &str) -> Self {
        let mut map = Self::default();
        for (key, word) in text.lines().filter_map(|line| line.rsplit_once(' ')) {
            if let (Some(key), Some(id)) = (Key::from_name(key), CommandId::from_word(word)) {
                map.set(id, key);
            }
        }
        map
    }
}

fn waiting_id() -> Id {
    Id::unique("command whose key is being set")
}

/// The command whose key or pedal is being set, if one is.
#[must_use]
pub fn waiting(ctx: &Context) -> Option<CommandId> {
    ctx.data(|data| data.get_temp::<CommandId>(waiting_id()))
}

/// The next key or pedal pressed is to be this command's; or none is waited for any more.
pub fn wait(ctx: &Context, id: Option<CommandId>) {
    ctx.data_mut(|data| match id {
        Some(id) => {
            data.insert_temp(waiting_id(), id);
        }
        None => data.remove::<CommandId>(waiting_id()),
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_has_one_command_and_what_is_kept_comes_back() {
        let mut map = KeyMap::default();
        map.set(CommandId::Forward, Key::F5);
        map.set(CommandId::Back, Key::F5);
        map.set(CommandId::Forward, Key::PageUp);
        map.set(CommandId::Forward, Key::Num1);
        map.set(CommandId::Forward, Key::Escape);
        assert_eq!(map.command(Key::F5), Some(CommandId::Back));
        assert_eq!(map.keys_of(CommandId::Forward).collect::<Vec<_>>(), [Key::PageUp]);
        assert_eq!(KeyMap::from_text(&map.to_text()), map);
        assert_eq!(KeyMap::from_text("F5 Nothing\nnot a key Forward\n\n"), KeyMap::default());
    }
}
