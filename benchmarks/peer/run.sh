#!/usr/bin/env bash
# Installs what the peer needs (Debian), builds it and prints its table; a few minutes.
#   run.sh               the table
#   run.sh reference DIR the references section2d.json and brick3d.json, converged anew into DIR (some ten minutes)
#   run.sh check         the code against exact series at constant properties
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
build=$(mktemp -d)
trap 'rm -rf "$build"' EXIT
cd "$here"

if [ ! -e /usr/include/cvode/cvode.h ] || [ ! -e /usr/include/suitesparse/klu.h ] || ! command -v gcc >/dev/null; then
	as_root=$([ "$(id -u)" = 0 ] || echo sudo)
	$as_root apt-get update -q
	$as_root apt-get install -q -y --no-install-recommends gcc libc6-dev libsundials-dev libsuitesparse-dev
fi

libs=()
for name in sundials_cvode sundials_nvecserial sundials_sunlinsolband sundials_sunlinsolklu sundials_sunlinsolspgmr \
	sundials_sunmatrixband sundials_sunmatrixsparse sundials_generic klu amd colamd btf suitesparseconfig; do
	libs+=("-l:lib$name.a")
done
build_one() {
	gcc -std=gnu11 -O3 -march=native -Wall -Wextra -I/usr/include/suitesparse "$1.c" body.c solve.c -o "$build/$1" "${libs[@]}" -lm
}

case ${1:-table} in
table) build_one peer && "$build/peer" "$here/../../testdata/cases" ;;
check) build_one reference && "$build/reference" check ;;
reference) build_one reference && nice "$build/reference" "${2:?folder to write into}" ;;
*) echo "usage: run.sh [table | check | reference DIR]" >&2; exit 2 ;;
esac
