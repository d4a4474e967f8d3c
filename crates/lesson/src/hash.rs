//! A fingerprint of a lesson's text, by which a journal tells its versions apart.

/// FNV-1a, 64 bits (Fowler, Noll and Vo; IETF RFC 9923), over the bytes of the file as they are.
///
/// Not proof against forgery; it only has to differ when a teacher changes the text.
#[must_use]
pub fn content_hash(bytes: &[u8]) -> u64 {
    const OFFSET_BASIS: u64 = 0xcbf2_9ce4_8422_2325;
    const PRIME: u64 = 0x0100_0000_01b3;
    bytes.iter().fold(OFFSET_BASIS, |hash, byte| (hash ^ u64::from(*byte)).wrapping_mul(PRIME))
}
