"""Reads the recorded notes of a sound font (SoundFont 2.01, its own specification): RIFF chunks `smpl` and `shdr`."""

import struct
from pathlib import Path

import numpy as np

FONT = Path("/usr/share/sounds/sf2/FluidR3_GM.sf2")  # Debian's fluid-soundfont-gm, MIT


def chunks(data, start, end):
    while start + 8 <= end:
        name, length = data[start : start + 4], struct.unpack_from("<I", data, start + 4)[0]
        yield name, start + 8, length
        start += 8 + length + (length & 1)


def notes(path=FONT, prefix="Steel "):
    """Samples by name, as (sound, rate): what lies before the loop's end."""
    data = memoryview(path.read_bytes())
    lists = [(at, length) for name, at, length in chunks(data, 12, len(data)) if name == b"LIST"]
    inner = {bytes(name): (at, length) for at, length in lists for name, at, length in chunks(data, at + 4, at + length)}
    samples = np.frombuffer(data[slice(inner[b"smpl"][0], sum(inner[b"smpl"]))], "<i2")
    found = {}
    for at in range(inner[b"shdr"][0], sum(inner[b"shdr"]), 46):
        name = bytes(data[at : at + 20]).split(b"\0")[0].decode("latin-1")
        first, end, _, _, rate = struct.unpack_from("<5I", data, at + 20)
        if name.startswith(prefix):
            found[name] = samples[first:end] / 32768.0, rate
    return found
