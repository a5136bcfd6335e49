#!/usr/bin/env bash
# Build a demo program with ca65 and ld65: homebrew-demo/build.sh first-light [OUTPUT_FOLDER]
# Writes the image and its label file beside the source, or into OUTPUT_FOLDER.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
name=${1:?name a program, for instance: homebrew-demo/build.sh first-light}
out=${2:-$here/$name}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
ca65 -g -I "$here/$name" -o "$work/$name.o" "$here/$name/$name.s"
# ld65 only warns when a segment is missing: anything on its error stream counts as a failure.
status=0
messages=$(ld65 -C "$here/nrom.cfg" -Ln "$out/$name.lbl" -o "$out/$name.bin" "$work/$name.o" 2>&1) || status=$?
[ "$status" -eq 0 ] && [ -z "$messages" ] || { echo "$messages" >&2; exit 1; }
