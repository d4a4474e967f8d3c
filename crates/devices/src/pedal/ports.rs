//! Which MIDI inputs are open: all that are there, but those that only pass on what programs send. Which to open and
//! close is decided apart from the system's own calls, which are few.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::{Mutex, PoisonError};
use std::time::Duration;

use crossbeam_channel::{Receiver, RecvTimeoutError};
use midir::{Ignore, MidiInput};

use super::Line;

/// What other programs see of us.
const OWN: &str = "Sixrung";
/// Linux's port that gives back what is sent to it: what comes from it was stepped on elsewhere.
const THROUGH: &str = "Midi Through";
/// How often is looked for ports that came or went.
const LOOK_AGAIN: Duration = Duration::from_secs(2);
/// Where Linux has its sequencer. To open one that is not there makes ALSA read its settings each time.
#[cfg(target_os = "linux")]
const SEQUENCER: &str = "/dev/snd/seq";

/// A port by the system's id and name. Both, since an id is given again to what is plugged in next.
type Port = (String, String);

/// What came of opening a port.
enum Tried<C> {
    /// It is open for as long as this lives.
    Open(C),
    /// Not now: another program may have it.
    Refused,
    /// The library broke down over it: it is left alone.
    Broken,
}

/// The ports that are open, each with its connection; those left alone have none.
struct Plugged<C>(Vec<(Port, Option<C>)>);

impl<C> Plugged<C> {
    /// Closes what is gone and opens what is new.
    fn follow(&mut self, there: Vec<Port>, mut open: impl FnMut(&str) -> Tried<C>) {
        self.0.retain(|(port, _)| there.contains(port));
        for port in there {
            let passed_on = port.1.starts_with(THROUGH) || port.1.starts_with(OWN);
            if passed_on || self.0.iter().any(|(known, _)| *known == port) {
                continue;
            }
            match open(&port.0) {
                Tried::Open(connection) => self.0.push((port, Some(connection))),
                Tried::Broken => self.0.push((port, None)),
                Tried::Refused => {}
            }
        }
    }

    /// What is open, as a player would call it.
    fn names(&self) -> Vec<String> {
        self.0.iter().filter(|(_, open)| open.is_some()).map(|((_, name), _)| short(name)).collect()
    }
}

/// The device's own name: on Linux `Pedal:Pedal MIDI 1 24:0` is `Pedal`.
fn short(name: &str) -> String {
    name.split(':').next().map(str::trim).filter(|name| !name.is_empty()).unwrap_or(name).to_owned()
}

/// Keeps the ports open until told to stop: the thread `pedals`. A machine without MIDI has none.
pub(super) fn keep_open<W>(stop: &Receiver<()>, names: &Mutex<Vec<String>>, line: &Line<W>)
where
    W: Fn() + Clone + Send + 'static,
{
    let mut plugged = Plugged(Vec::new());
    let mut looker = None;
    loop {
        crate::quiet::hush();
        // Kept from look to look: other programs are told of each new client, and should not be every two seconds.
        looker = looker.or_else(|| if has_midi() { MidiInput::new(OWN).ok() } else { None });
        if let Some(looker) = &looker {
            plugged.follow(there(looker), |id| connect(looker, id, line.clone()));
            *names.lock().unwrap_or_else(PoisonError::into_inner) = plugged.names();
        }
        if stop.recv_timeout(LOOK_AGAIN) != Err(RecvTimeoutError::Timeout) {
            return;
        }
    }
}

/// Whether the system has MIDI at all, asked without its library.
fn has_midi() -> bool {
    #[cfg(target_os = "linux")]
    return std::path::Path::new(SEQUENCER).exists();
    #[cfg(not(target_os = "linux"))]
    true
}

fn there(looker: &MidiInput) -> Vec<Port> {
    looker.ports().iter().filter_map(|port| Some((port.id(), looker.port_name(port).ok()?))).collect()
}

/// Opens a port: from now on its messages go down the line, on a thread of the library's. It unwraps where the system
/// has no queue left, which must not take the other pedals away.
fn connect<W>(looker: &MidiInput, id: &str, mut line: Line<W>) -> Tried<midir::MidiInputConnection<()>>
where
    W: Fn() + Clone + Send + 'static,
{
    let opened = catch_unwind(AssertUnwindSafe(|| {
        let port = looker.find_port_by_id(id)?;
        let mut input = MidiInput::new(OWN).ok()?;
        input.ignore(Ignore::All);
        input.connect(&port, "pedals", move |_, message, ()| line.message(message), ()).ok()
    }));
    match opened {
        Ok(Some(connection)) => Tried::Open(connection),
        Ok(None) => Tried::Refused,
        Err(_) => Tried::Broken,
    }
}

#[cfg(test)]
mod tests {
    use super::{Plugged, Port, Tried, short};

    fn ports(listed: &[(&str, &str)]) -> Vec<Port> {
        listed.iter().map(|(id, name)| ((*id).to_owned(), (*name).to_owned())).collect()
    }

    /// Which ids were tried when these are there.
    fn look(plugged: &mut Plugged<()>, listed: &[(&str, &str)], what: fn() -> Tried<()>) -> Vec<String> {
        let mut tried = Vec::new();
        plugged.follow(ports(listed), |id| {
            tried.push(id.to_owned());
            what()
        });
        tried
    }

    #[test]
    fn what_comes_is_opened_once_what_goes_is_closed_and_passers_on_are_left_out() {
        let open = || Tried::Open(());
        let mut plugged = Plugged(Vec::new());
        let through = ("14:0", "Midi Through:Midi Through Port-0 14:0");
        let ours = ("128:0", "Sixrung:pedals 128:0");
        let (pedal, keys) = (("24:0", "Pedal:Pedal MIDI 1 24:0"), ("28:0", "Keys:Keys MIDI 1 28:0"));
        assert_eq!(look(&mut plugged, &[through, ours, pedal], open), ["24:0"]);
        assert_eq!(plugged.names(), ["Pedal"]);
        assert!(look(&mut plugged, &[through, pedal], open).is_empty());
        assert_eq!(look(&mut plugged, &[pedal, keys], open), ["28:0"]);
        assert_eq!(plugged.names(), ["Pedal", "Keys"]);
        // Unplugged, and another device on its number.
        assert_eq!(look(&mut plugged, &[("24:0", "Board:Board 24:0")], open), ["24:0"]);
        assert_eq!(plugged.names(), ["Board"]);
        assert!(look(&mut plugged, &[], open).is_empty());
        assert!(plugged.names().is_empty());
    }

    #[test]
    fn what_is_refused_is_tried_again_and_what_breaks_down_is_left_alone_until_it_is_plugged_in_anew() {
        let mut plugged = Plugged(Vec::new());
        let pedal = [("24:0", "Pedal:Pedal MIDI 1 24:0")];
        for _ in 0..2 {
            assert_eq!(look(&mut plugged, &pedal, || Tried::Refused), ["24:0"]);
        }
        assert_eq!(look(&mut plugged, &pedal, || Tried::Broken), ["24:0"]);
        assert!(look(&mut plugged, &pedal, || Tried::Open(())).is_empty());
        assert!(plugged.names().is_empty());
        assert!(look(&mut plugged, &[], || Tried::Open(())).is_empty());
        assert_eq!(look(&mut plugged, &pedal, || Tried::Open(())), ["24:0"]);
    }

    #[test]
    fn a_pedal_is_called_by_its_own_name() {
        for (name, expected) in [("Pedal:Pedal MIDI 1 24:0", "Pedal"), ("FS-2", "FS-2"), (":x", ":x"), ("", "")] {
            assert_eq!(short(name), expected, "{name}");
        }
    }
}
