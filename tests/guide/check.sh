#!/usr/bin/env bash
# Holds the printed guides of all demos against tools that are not ours (Debian: qpdf poppler-utils):
#   tests/guide/check.sh target/debug/sixrung [FOLDER]
# The files are whole (qpdf), their fonts embedded and subset (pdffonts), tagged (pdfinfo), without any colour (qpdf);
# words, chords and counts come out in reading order (pdftotext); the bytes are the same twice; no file is larger than
# 60 kB, in any arrangement, on either paper, for either hand, in either print. Some lessons of the corpus are checked too.
set -euo pipefail
sixrung=$(realpath "$1")
folder=${2:-$(mktemp -d)}
mkdir -p "$folder"
lessons=$(dirname "$0")/../corpus/lessons/good
failed=0
fail() { echo "  NOT AS ASKED: $*"; failed=1; }

sound() { # FILE: whole, no larger than asked, its fonts in it, tagged, in greys only, without a date
  local file=$1
  qpdf --check "$file" >"$folder/qpdf.txt" 2>&1 || fail "$file: qpdf: $(cat "$folder/qpdf.txt")"
  grep -q "No syntax or stream encoding errors" "$folder/qpdf.txt" || fail "$file: qpdf has something to say"
  # Poppler 22 says on stderr that /Suspects is no boolean, which it is: it is not listened to.
  fonts=$(pdffonts "$file" 2>/dev/null | tail -n +3)
  # emb, sub and uni of every font; pdffonts prints them as the three words before the object's number.
  echo "$fonts" | awk '{ if ($(NF-4) != "yes" || $(NF-3) != "yes" || $(NF-2) != "yes") exit 1 }' || fail "$file: fonts: $fonts"
  pdfinfo "$file" 2>/dev/null >"$folder/info.txt"
  grep -q "^Tagged: *yes" "$folder/info.txt" || fail "$file: not tagged"
  grep -qE "^(CreationDate|ModDate)" "$folder/info.txt" && fail "$file: it has a date"
  # The operators that choose a colour; g and G choose a grey.
  qpdf --qdf --object-streams=disable "$file" "$folder/plain.qdf"
  grep -aqE "(^| )(rg|RG|k|K|cs|CS|sc|SC|scn|SCN)$" "$folder/plain.qdf" && fail "$file: it has colours"
  rm "$folder/plain.qdf"
  size=$(stat -c %s "$file")
  [ "$size" -le 60000 ] || fail "$file: $size bytes"
}

check() { # NAME EXPECTED-WORDS...: the file $folder/NAME.pdf
  local name=$1 file=$folder/$1.pdf; shift
  sound "$file"
  pdfinfo -struct-text "$file" >"$folder/$name.struct.txt" 2>/dev/null
  for tag in H1 H2 H3 P Figure Table TR TH TD; do
    grep -qE "^ *$tag([: ]|$)" "$folder/$name.struct.txt" || fail "$name: no $tag in the structure"
  done
  # Three ways to read it: as it lies on the page, line by line, and as a screen reader goes through the structure.
  pdftotext -layout "$file" "$folder/$name.layout.txt" 2>/dev/null
  pdftotext "$file" "$folder/$name.txt" 2>/dev/null
  local words; words=$(cat "$folder/$name".{layout,struct}.txt "$folder/$name.txt" | tr -s '[:space:]' ' ')
  for word in "$@"; do
    [[ $words == *"$word"* ]] || fail "$name does not read: $word"
  done
  # Headings are read in the order of the paper.
  local heads; heads=$(tr -d '\f' <"$folder/$name.txt" | grep -E "^(Chords|Strokes|The song|The ladder|The days)$" | tr '\n' ',')
  [ "$heads" = "Chords,Strokes,The song,The ladder,The days," ] || fail "$name reads its headings as $heads"
  echo "$name: $(awk '/^Pages/ { print $2 }' "$folder/info.txt") pages, $size bytes, $(echo "$fonts" | wc -l) fonts, $(wc -w <"$folder/$name.txt") words"
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
  "1 & 2 & 3 & 4 &" "1 D & 2 D & U 3 & U 4 D & U" "D Low tide, and the lamp still burning" "So Bm hang the lantern low" "last time: rise" \
  "× 6: the thumb, resting over the edge" "× 5: the thumb’s tip" "without “push”" "Stop if you feel pain, numbness or tingling"
make lantern-large lantern-on-the-quay --large --left-handed --paper letter --arrangement full
check lantern-large "Low tide" "next chord" "with “push”"
make ferry ferry-lullaby
check ferry "58 dotted quarter notes a minute" "1 2 3 4 5 6" "2nd ending" "G Hush now, the ferry is slow tonight" "And C over we go, and G over we go"
make ferry-higher ferry-lullaby --arrangement higher
check ferry-higher "capo at fret 2" "sounds A"
make kettle kettle-and-clock
check kettle "1 e & a 2 e & a" "2nd time: tick" "D all the day long. N.C." "C Tick, says the clock, and D click goes the lid"
make shuffle tin-roof-shuffle
check shuffle "swung eighths, 2 to 1: the & comes late" "capo at fret 2" "sounds F♯m" "1 trip let" "G Rain on the tin roof"

corpus() { # LESSON OPTIONS... -- EXPECTED-WORDS...
  local name=$1 options=(); shift
  while [ "$1" != -- ]; do options+=("$1"); shift; done
  shift
  make "$name" "$lessons/$name.lesson.ron" "${options[@]}"
  check "$name" "$@"
}
corpus swing-and-triplets -- "3 to 2: the & comes late" "1 trip let 2 trip let" "last time: threes"
corpus twelve-eight -- "60 dotted quarter notes a minute" "1 2 3 4 5 6 7 8 9 10 11 12" "next chord"
corpus seven-strings -- "tuned B E A D G B E"
corpus ukulele -- "tuned G C E A" "88.5 quarter notes"
corpus exceptions -- "2nd time: D → A split" "3rd time: G plain" "last time: early"
corpus options --arrangement fullest -- "with “busy”" "with “busier”" "capo at fret 2" "1 e & a 2 e & a"
corpus endings -- "1st ending" "2nd ending"
corpus pickup -- "O, in the größere Welt" "key D-Dur"

most=0 count=0
for lesson in lantern-on-the-quay ferry-lullaby kettle-and-clock tin-roof-shuffle; do
  for arrangement in plain easy full; do
    for paper in a4 letter; do
      for more in "" "--large" "--left-handed" "--large --left-handed"; do
        # shellcheck disable=SC2086 # two words are two options
        make any "$lesson" --arrangement "$arrangement" --paper "$paper" $more
        sound "$folder/any.pdf"
        count=$((count + 1))
        if [ "$size" -gt "$most" ]; then most=$size largest="$lesson $arrangement $paper $more"; fi
      done
    done
  done
done
rm "$folder/any.pdf"
echo "$count guides in every choice: $most bytes at most, $largest"

"$sixrung" guide lantern-on-the-quay --out "$folder/lantern.svg" >/dev/null
for page in "$folder"/lantern*.svg; do
  if command -v xmllint >/dev/null; then xmllint --noout "$page" || fail "$page"; fi
done
[ "$failed" = 0 ] && echo "all as asked; the files are in $folder" || exit 1
