#!/bin/sh
# Adds what reads STEP drawings, 99 MB, to the environment of this checkout.
set -eu
here=$(dirname -- "$(dirname -- "$(readlink -f -- "$0")")")
. "$here/setup/prepare.sh"
prepare step
echo "STEP drawings can be read."
