# A room for the live scripts, to be sourced: a display, and PulseAudio with two null sinks. What is played into `guitar`
# is what the microphone hears; what the program plays goes to `speaker`. Sets `work`, a folder that goes with the room.
#
# Needs: xvfb pulseaudio libasound2-plugins.
work=$(mktemp -d)
# Beside this file lies what the scripts share in Python.
PYTHONPATH=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
export PYTHONPATH PYTHONDONTWRITEBYTECODE=1
trap 'kill $(jobs -p) 2>/dev/null || true; rm -rf "$work"' EXIT
export ALSA_CONFIG_PATH=$work/asound.conf PULSE_SERVER=unix:$work/pulse.sock

cat > "$work/rooms.pa" <<P
load-module module-native-protocol-unix auth-anonymous=1 socket=$work/pulse.sock
load-module module-null-sink sink_name=speaker rate=48000 channels=2 format=float32le norewinds=1
load-module module-null-sink sink_name=guitar rate=48000 channels=1 format=float32le norewinds=1
load-module module-remap-source source_name=mic master=guitar.monitor
set-default-sink speaker
set-default-source mic
P
cat > "$ALSA_CONFIG_PATH" <<P
</usr/share/alsa/alsa.conf>
pcm.!default { type pulse server "unix:$work/pulse.sock" }
ctl.!default { type pulse server "unix:$work/pulse.sock" }
P
pulseaudio -n -F "$work/rooms.pa" --exit-idle-time=-1 --use-pid-file=no --realtime=no --high-priority=no 2>/dev/null &
# The server takes a display that is free and says which.
Xvfb -displayfd 3 -screen 0 1280x800x24 3>"$work/display" 2>/dev/null &
until [ -s "$work/display" ] && [ -S "$work/pulse.sock" ]; do sleep 0.1; done
DISPLAY=:$(cat "$work/display")
export DISPLAY

# A journal in folder $1, made by the program itself, with these settings: key value key value …
journal() {
  local data=$1; shift
  "$sixrung" lantern-on-the-quay --data "$data" 2>>"$work/log" &
  local app=$!
  sleep 5
  kill $app; wait $app 2>/dev/null || true
  "${PYTHON:-python3}" - "$data/journal.sqlite" "$@" <<'P'
import sqlite3, sys
with sqlite3.connect(sys.argv[1]) as db:
    for key, value in zip(sys.argv[2::2], sys.argv[3::2]):
        db.execute("insert or replace into settings (key, value) values (?, ?)", (key, value))
P
}

# What the journal in $work/data holds, a row a line: by query $1, or its passes, oldest first: verdict, reason, strokes in
# time, strokes expected.
kept() {
  python3 - "$work/data/journal.sqlite" "${1:-select verdict, ifnull(reason, ''), in_time, expected from passes order by id}" <<'P'
import sqlite3, sys
db = sqlite3.connect(f"file:{sys.argv[1]}?mode=ro", uri=True)
for row in db.execute(sys.argv[2]):
    print(*row)
P
}
