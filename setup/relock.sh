#!/bin/sh
# Writes the three locks anew after pyproject.toml changed; pins that still fit stay. Newer versions: setup/relock.sh --upgrade
set -eu
here=$(dirname -- "$(dirname -- "$(readlink -f -- "$0")")")
. "$here/setup/prepare.sh"
prepare test
cd "$here"

# Hashes and no addresses: any mirror of the index will do, and pip reads the file as well as uv.
lock() {
    "$python" -I -m uv pip compile --quiet --universal --python-version 3.11 --generate-hashes \
        --no-header --no-annotate --no-emit-index-url --no-emit-find-links "$@"
}

lock pyproject.toml -o requirements.lock "$@"
lock pyproject.toml --group test -c requirements.lock -o requirements-test.lock "$@"
printf 'uv\n' | lock - -o setup/installer.lock "$@"
