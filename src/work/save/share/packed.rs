//! A text as a few letters of an address, and back: deflated (RFC 1951) after words that both sides know, with a check
//! sum, so that what was cut short or changed on its way is told.

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use miniz_oxide::deflate::core::{
    CompressorOxide, TDEFLFlush, TDEFLStatus, compress, create_comp_flags_from_zip_params,
};
use miniz_oxide::inflate::TINFLStatus;
use miniz_oxide::inflate::core::inflate_flags::TINFL_FLAG_USING_NON_WRAPPING_OUTPUT_BUF;
use miniz_oxide::inflate::core::{DecompressorOxide, decompress};

/// What most pieces hold, which need not be sent. A link is read by the words that it was packed with: these never
/// change; better ones come beside them, under another letter in the link.
const WORDS: &[u8] = include_bytes!("words.txt");

/// Most bytes that a link unpacks to.
pub const MOST_UNPACKED: usize = 1_000_000;

/// The letters that a square code packs two in eleven bits of, as far as an address takes them as they are
/// (ISO/IEC 18004, alphanumeric mode; RFC 3986, fragment).
const LETTERS: &[u8; 41] = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-.:/$";

/// Fowler–Noll–Vo 1a, 32 bits.
fn check_sum(bytes: &[u8]) -> [u8; 4] {
    let step = |sum: u32, byte: &u8| (sum ^ u32::from(*byte)).wrapping_mul(16_777_619);
    bytes.iter().fold(2_166_136_261, step).to_be_bytes()
}

/// Feeds all of it to the compressor, and gives what comes out up to a whole byte.
fn deflated(with: &mut CompressorOxide, bytes: &[u8], flush: TDEFLFlush) -> Vec<u8> {
    let mut out = Vec::new();
    let mut room = vec![0; 32_768];
    let mut read = 0;
    loop {
        let (status, more, put) = compress(with, &bytes[read..], &mut room, flush);
        read += more;
        out.extend_from_slice(&room[..put]);
        // Room that was not filled: nothing is held back.
        if status != TDEFLStatus::Okay || put < room.len() && read == bytes.len() {
            return out;
        }
    }
}

/// Deflated, with its check sum in front.
pub fn pack(text: &str) -> Vec<u8> {
    // The most thorough search; no header around it.
    let mut with = CompressorOxide::new(create_comp_flags_from_zip_params(10, 0, 0));
    // What comes of the words ends at a whole byte and is left out: the reader has them.
    deflated(&mut with, WORDS, TDEFLFlush::Sync);
    let mut out = check_sum(text.as_bytes()).to_vec();
    out.extend(deflated(&mut with, text.as_bytes(), TDEFLFlush::Finish));
    out
}

/// The text again. Never makes more than [`MOST_UNPACKED`] bytes of it; none where it is not whole.
pub fn unpack(bytes: &[u8]) -> Option<String> {
    let (sum, deflated) = bytes.split_at_checked(4)?;
    // Grown as it fills, so that a short link takes little room.
    let mut out = WORDS.to_vec();
    let mut reader = DecompressorOxide::new();
    let (mut read, mut at) = (0, out.len());
    loop {
        let most = WORDS.len() + MOST_UNPACKED;
        out.resize((out.len() * 2).min(most), 0);
        let flags = TINFL_FLAG_USING_NON_WRAPPING_OUTPUT_BUF;
        let (status, more, put) = decompress(&mut reader, &deflated[read..], &mut out, at, flags);
        read += more;
        at += put;
        match status {
            TINFLStatus::Done => break,
            TINFLStatus::HasMoreOutput if out.len() < most => {}
            _ => return None,
        }
    }
    let text = out.get(WORDS.len()..at)?;
    (check_sum(text) == sum).then(|| String::from_utf8(text.to_vec()).ok())?
}

/// As an address carries them in the fewest letters.
pub fn to_letters(bytes: &[u8]) -> String {
    URL_SAFE_NO_PAD.encode(bytes)
}

pub fn of_letters(letters: &str) -> Option<Vec<u8>> {
    URL_SAFE_NO_PAD.decode(letters).ok()
}

/// As a square code carries them in the fewest bits: two bytes are three letters.
pub fn to_capitals(bytes: &[u8]) -> String {
    let mut out = String::new();
    for pair in bytes.chunks(2) {
        let mut n = pair.iter().fold(0, |n, byte| n * 256 + usize::from(*byte));
        for _ in 0..=pair.len() {
            out.push(char::from(LETTERS[n % LETTERS.len()]));
            n /= LETTERS.len();
        }
    }
    out
}

pub fn of_capitals(letters: &str) -> Option<Vec<u8>> {
    let mut out = Vec::new();
    for three in letters.as_bytes().chunks(3) {
        let mut n = 0;
        for letter in three.iter().rev() {
            n = n * LETTERS.len() + LETTERS.iter().position(|l| l == letter)?;
        }
        match three.len() {
            3 => out.extend_from_slice(&u16::try_from(n).ok()?.to_be_bytes()),
            2 => out.push(u8::try_from(n).ok()?),
            _ => return None,
        }
    }
    Some(out)
}
