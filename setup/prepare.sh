# Sets up the environment of this checkout; sourced by ./run and ./test, which set `here` and `lock` first.
#
# Everything goes into .setup/: the environment into .setup/venv, a stamp beside it that is written last, so that a
# set-up that was cut off is taken up again. Nothing is printed on stdout. Leaves `python` set.

unset PYTHONPATH PYTHONHOME PIP_USER PIP_TARGET PIP_PREFIX VIRTUAL_ENV
setup=$here/.setup
venv=$setup/venv
python=$venv/bin/python

say() { printf '%s\n' "$*" >&2; }
stop() { say "$@"; exit 2; }

wanted_stamp() { { cat "$lock" "$here/setup/prepare.sh"; printf '%s' "$here"; } | cksum; }
stamp_of() { cat "$setup/$1.stamp" 2>/dev/null || :; }

is_new_enough() { "$1" -c 'import sys; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1; }

find_python() {
    for candidate in python3 python3.14 python3.13 python3.12 python3.11; do
        if command -v "$candidate" >/dev/null 2>&1 && is_new_enough "$candidate"; then
            printf '%s' "$candidate"
            return
        fi
    done
    stop "Python 3.11 or newer is needed and none was found (python3 is $(python3 --version 2>&1 || echo missing)): install python3.11, then start again."
}

claim_folder() {
    if [ -e "$setup" ] && [ ! -f "$setup/.made-by-trialfit" ]; then
        stop "$setup is there already and was not made by this script: move it away, then start again. Nothing was touched."
    fi
    mkdir -p "$setup" 2>/dev/null && : >"$setup/.made-by-trialfit" 2>/dev/null ||
        stop "$here cannot be written: copy it to a folder of your own, then start again."
}

# Two set-ups at once: the second waits for the first; a lock whose owner is gone is taken over.
take_turn() {
    said=
    until mkdir "$setup/turn" 2>/dev/null; do
        owner=$(cat "$setup/turn/owner" 2>/dev/null || :)
        if [ -n "$owner" ] && ! kill -0 "$owner" 2>/dev/null; then
            rm -rf "$setup/turn"
            continue
        fi
        [ -n "$said" ] || say "Another set-up is at work here; waiting for it."
        said=yes
        sleep 1
    done
    echo $$ >"$setup/turn/owner"
    trap 'rm -rf "$setup/turn"' EXIT
    trap 'exit 130' INT TERM
}

make_venv() {
    base=$(find_python) || exit 2
    "$base" -m venv --clear "$venv" >"$setup/venv.log" 2>&1 && return
    if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
        say "Installing python3-venv, which this Python lacks."
        { apt-get update && apt-get install -y --no-install-recommends python3-venv; } >"$setup/venv.log" 2>&1
        "$base" -m venv --clear "$venv" >>"$setup/venv.log" 2>&1 && return
    fi
    stop "This Python cannot make an environment; install the package python3-venv, then start again. Details: $setup/venv.log"
}

install_lock() {
    if "$python" -m pip install --quiet --disable-pip-version-check uv==0.13.9 >"$setup/install.log" 2>&1 &&
        "$python" -m uv pip install --quiet --python "$python" --require-hashes -r "$lock" >>"$setup/install.log" 2>&1; then
        return
    fi
    say "The fast installer did not work here; trying pip."
    "$python" -m pip install --quiet --disable-pip-version-check --require-hashes -r "$lock" >>"$setup/install.log" 2>&1 ||
        stop "Installing the packages failed; is there a network? Details: $setup/install.log"
}

prepare() {
    what=$1
    wanted=$(wanted_stamp)
    if [ "$(stamp_of "$what")" = "$wanted" ] && [ -x "$python" ]; then
        return
    fi
    claim_folder
    take_turn
    if [ "$(stamp_of "$what")" != "$wanted" ] || [ ! -x "$python" ]; then
        say "Setting up in .setup/ (once; about 300 MB)."
        if ! is_new_enough "$python"; then
            rm -f "$setup"/*.stamp
            make_venv
        fi
        install_lock
        site=$("$python" -c 'import sysconfig; print(sysconfig.get_path("purelib"))')
        printf '%s\n' "$here/src" >"$site/trialfit.pth"
        "$python" -m compileall -q "$here/src" "$site" >/dev/null 2>&1 || :
        printf '%s' "$wanted" >"$setup/$what.stamp"
    fi
    rm -rf "$setup/turn"
    trap - EXIT INT TERM
}
