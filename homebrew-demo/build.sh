#!/usr/bin/env bash
# Build demo programs with ca65 and ld65: homebrew-demo/build.sh lamplighter [OUTPUT_FOLDER]
# Every .s file that stands directly in the folder is a program. Writes its image and its label file beside the source, or
# into OUTPUT_FOLDER.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
folder=${1:?name a folder, for instance: homebrew-demo/build.sh first-light}
out=${2:-$here/$folder}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
for source in "$here/$folder"/*.s; do
  name=$(basename "$source" .s)
  ca65 -g -I "$here/$folder" -o "$work/$name.o" "$source"
  # ld65 only warns when a segment is missing: anything on its error stream counts as a failure.
  status=0
  messages=$(ld65 -C "$here/nrom.cfg" -Ln "$out/$name.lbl" -o "$out/$name.bin" "$work/$name.o" 2>&1) || status=$?
  [ "$status" -eq 0 ] && [ -z "$messages" ] || { echo "$messages" >&2; exit 1; }
done
