#!/usr/bin/env bash
# Holds the printed guides of all demos against tools that are not ours (Debian: qpdf poppler-utils):
#   tests/guide/check.sh target/debug/sixrung [FOLDER]
# The files are whole (qpdf), their fonts embedded and subset (pdffonts), tagged (pdfinfo); words, chords and counts come
# out in reading order (pdftotext); the bytes are the same twice; no file is larger than 60 kB.
set -euo pipefail
sixrung=$(realpath "$1")
folder=${2:-$(mktemp -d)}
mkdir -p "$folder"
failed=0
fail() { echo "  NOT AS ASKED: $*"; failed=1; }

check() { # NAME EXPECTED-WORDS...: the file $folder/NAME.pdf
  local name=$1 file=$folder/$1.pdf; shift
  qpdf --check "$file" >"$folder/qpdf.txt" 2>&1 || fail "qpdf: $(cat "$folder/qpdf.txt")"
  grep -q "No syntax or stream encoding errors" "$folder/qpdf.txt" || fail "qpdf has something to say"
  # Poppler 22 says on stderr that /Suspects is no boolean, which it is: it is not listened to.
  local fonts; fonts=$(pdffonts "$file" 2>/dev/null | tail -n +3)
  # emb, sub and uni of every font; pdffonts prints them as the three words before the object's number.
  echo "$fonts" | awk '{ if ($(NF-4) != "yes" || $(NF-3) != "yes" || $(NF-2) != "yes") exit 1 }' || fail "fonts: $fonts"
  pdfinfo "$file" 2>/dev/null | grep -q "^Tagged: *yes" || fail "not tagged"
  pdfinfo -struct-text "$file" >"$folder/$name.struct.txt" 2>/dev/null
  for tag in H1 H2 H3 P Figure Table TR TH TD; do
    grep -qE "^ *$tag([: ]|$)" "$folder/$name.struct.txt" || fail "no $tag in the structure"
  done
  pdfinfo "$file" 2>/dev/null | grep -qE "^(CreationDate|ModDate)" && fail "it has a date"
  # Three ways to read it: as it lies on the page, line by line, and as a screen reader goes through the structure.
  pdftotext -layout "$file" "$folder/$name.layout.txt" 2>/dev/null
  pdftotext "$file" "$folder/$name.txt" 2>/dev/null
  local words; words=$(cat "$folder/$name".{layout,struct}.txt "$folder/$name.txt" | tr -s '[:space:]' ' ')
  for word in "$@"; do
    [[ $words == *"$word"* ]] || fail "it does not read: $word"
  done
  local size; size=$(stat -c %s "$file")
  [ "$size" -le 60000 ] || fail "$size bytes"
  echo "$name: $(pdfinfo "$file" 2>/dev/null | awk '/^Pages/ { print $2 }') pages, $size bytes, $(echo "$fonts" | wc -l) fonts, $(wc -w <"$folder/$name.txt") words"
}

make() { # NAME LESSON OPTIONS...
  local name=$1 lesson=$2; shift 2
  "$sixrung" guide "$lesson" --out "$folder/$name.pdf" "$@" >/dev/null
  "$sixrung" guide "$lesson" --out "$folder/again.pdf" "$@" >/dev/null
  cmp -s "$folder/$name.pdf" "$folder/again.pdf" || fail "$name: other bytes the second time"
  rm "$folder/again.pdf"
}

make lantern lantern-on-the-quay
check lantern "126 quarter notes a minute" "standard tuning E A D G B E" "Bm7" "for Bm" "Verse – Stop – Chorus" "Second verse" \
  "1 & 2 & 3 & 4 &" "1 D & 2 D & U 3 & U 4 D & U" "D Low tide, and the lamp still burning" "So Bm hang the lantern low" "last time: rise" "Stop if you feel pain, numbness or tingling"
make lantern-large lantern-on-the-quay --large --left-handed --paper letter --arrangement full
check lantern-large "Low tide" "next chord"
make ferry ferry-lullaby
check ferry "58 dotted quarter notes a minute" "1 2 3 4 5 6" "2nd ending" "G Hush now, the ferry is slow tonight" "And C over we go, and G over we go"
make ferry-higher ferry-lullaby --arrangement higher
check ferry-higher "capo at fret 2" "sounds A"
make kettle kettle-and-clock
check kettle "1 e & a 2 e & a" "2nd time: tick" "D all the day long. N.C." "C Tick, says the clock, and D click goes the lid"
make shuffle tin-roof-shuffle
check shuffle "swung eighths, 2 to 1" "capo at fret 2" "sounds F♯m" "1 trip let" "G Rain on the tin roof"

"$sixrung" guide lantern-on-the-quay --out "$folder/lantern.svg" >/dev/null
for page in "$folder"/lantern*.svg; do
  if command -v xmllint >/dev/null; then xmllint --noout "$page" || fail "$page"; fi
done
[ "$failed" = 0 ] && echo "all as asked; the files are in $folder" || exit 1
