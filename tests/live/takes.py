"""Takes read, laid one after the other and written, for the live scripts: mono, 48 kHz, samples from -1 to 1."""

import struct
import wave

RATE = 48000


def read(name):
    """The samples of a WAV of 16 bits or of 32-bit floats."""
    with open(name, "rb") as file:
        data = file.read()
    at = data.index(b"data")
    samples = memoryview(data[at + 8 : at + 8 + struct.unpack("<I", data[at + 4 : at + 8])[0]])
    if struct.unpack("<H", data[34:36])[0] == 32:
        return list(struct.unpack(f"<{len(samples) // 4}f", samples))
    return [value / 32768 for value in struct.unpack(f"<{len(samples) // 2}h", samples)]


def lay(out, at_s, samples):
    """Puts samples at a time, after what is there; what lies beyond that time is cut."""
    start = round(at_s * RATE)
    out += [0.0] * (start - len(out))
    out[start:] = samples


def write(name, samples):
    """Writes a WAV of 16 bits."""
    with wave.open(name, "wb") as file:
        file.setnchannels(1), file.setsampwidth(2), file.setframerate(RATE)
        clipped = (max(-32767, min(32767, round(sample * 32767))) for sample in samples)
        file.writeframes(b"".join(struct.pack("<h", sample) for sample in clipped))
