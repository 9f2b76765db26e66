# Sets up the environment of this checkout. Sourced by ./run, ./test and setup/step.sh, which set `here` to the checkout first.
#
#   prepare run     what the command needs                 requirements.lock
#   prepare step    that, and the reader of STEP drawings  requirements-step.lock
#   prepare test    that, and what the tests need          requirements-test.lock
#
# Leaves `venv` and `python`. Prints on stderr only, and nothing at all when everything is in place. Owns .setup/:
#
#   .setup/venv                    the environment, without installers: they weigh as much as a sixth of all else
#   .setup/venv/*-stamp            what it was made from, for run, step and test. They lie in the environment, so that they go
#                                  with it, and are written last, so that a set-up that was cut off is done again
#   .setup/venv/contents           what stands among the packages: where something of it has gone, all is made anew
#   .setup/installer               pip and uv, while a set-up is at work
#   .setup/turn                    locked while a set-up is at work
#   .setup/*.log                   what the installers said

# Settings of other environments must not decide what is installed where.
unset PYTHONHOME PYTHONPATH VIRTUAL_ENV PIP_USER PIP_TARGET PIP_PREFIX PIP_ROOT UV_PYTHON UV_SYSTEM_PYTHON UV_TARGET UV_PREFIX

setup=$here/.setup
venv=$setup/venv
installer=$setup/installer
python=$venv/bin/python

prepare() {
    is_prepared "$1" && return
    base=$(find_python)
    [ -n "$base" ] || stop "Python 3.11 or newer is needed and was not found$(seen_instead): install python3.11, then start again."
    claim_folder
    take_turn
    if ! is_prepared "$1"; then
        # Each set of packages includes the one before. What is here stays, also when ./run has something new to set up.
        what=$1
        [ "$what" != run ] || [ ! -e "$venv/step-stamp" ] || what="step"
        [ ! -e "$venv/test-stamp" ] || what="test"
        say "Setting up, once: fetching packages into $setup."
        is_sound || make_venv
        rm -f "$venv/run-stamp" "$venv/step-stamp" "$venv/test-stamp" "$venv/contents"
        install_packages "$(lock_of "$what")"
        [ "$what" != test ] || stamp_for test >"$venv/test-stamp"
        [ "$what" = run ] || stamp_for step >"$venv/step-stamp"
        stamp_for run >"$venv/run-stamp"
    fi
    end_turn
}

say() { printf '%s\n' "$*" >&2; }
stop() { say "$@"; exit 2; }

lock_of() {
    case $1 in
        run) printf '%s' "$here/requirements.lock" ;;
        *) printf '%s' "$here/requirements-$1.lock" ;;
    esac
}

# Checksums, with the paths: a checkout that was moved is set up again, because the scripts in venv/bin hold the path.
stamp_for() { cksum "$(lock_of "$1")" "$here/setup/prepare.sh"; }

is_prepared() {
    [ -x "$python" ] && [ -f "$venv/$1-stamp" ] && [ "$(cat "$venv/$1-stamp")" = "$(stamp_for "$1")" ] && is_whole
}

# Everything that a finished set-up left among the packages is still there. Only the shell itself looks: it takes no time.
is_whole() {
    [ -f "$venv/contents" ] || return 1
    while IFS= read -r one; do
        [ -e "$one" ] || return 1
    done <"$venv/contents"
}

# An environment that a finished set-up left at this very place, without installers in it; all else is made anew.
is_sound() {
    [ ! -e "$venv/bin/pip" ] && grep -qsF " $here/setup/prepare.sh" "$venv/run-stamp" &&
        [ -n "$(real_python "$python")" ] && { [ ! -e "$venv/contents" ] || is_whole; }
}

# The interpreter itself if it is new enough, else nothing. The version in its file name ("python3.11") matters: an
# environment made from it dangles, and so is made anew, when the system moves on to another version.
real_python() {
    "$1" -I -c 'import os, sys
if sys.version_info >= (3, 11): print(os.path.realpath(sys.executable))' 2>/dev/null || :
}

find_python() {
    for candidate in python3 python3.14 python3.13 python3.12 python3.11; do
        if command -v "$candidate" >/dev/null 2>&1; then
            found=$(real_python "$candidate")
            [ -z "$found" ] || { printf '%s' "$found"; return; }
        fi
    done
}

seen_instead() {
    command -v python3 >/dev/null 2>&1 || return 0
    version=$(python3 -c 'import sys; print("%d.%d" % sys.version_info[:2])' 2>/dev/null) || return 0
    printf ' (python3 is %s)' "$version"
}

claim_folder() {
    # Looked at in this order, because another first start may be putting its mark there at this moment.
    inside=$(ls -A "$setup" 2>/dev/null || :)
    if [ -n "$inside" ] && [ ! -f "$setup/.made-by-trialfit" ]; then
        stop "$setup is there already and was not made by this script: move it away, then start again. Nothing was touched."
    fi
    { mkdir -p "$setup" && touch "$setup/.made-by-trialfit" "$setup/turn"; } 2>/dev/null ||
        stop "$setup cannot be written: copy the checkout to a folder of your own, or start as its owner."
}

# Two set-ups at once: the second waits. The lock belongs to open file 9, so it ends with the processes that hold it,
# however they end, and there is no stale lock to clean up. A file system that knows no locks is taken as it is.
take_turn() {
    trap 'exit 130' INT
    trap 'exit 143' TERM
    exec 9>"$setup/turn"
    "$base" -I -c 'import fcntl, signal, sys
signal.signal(signal.SIGINT, signal.SIG_DFL)
try:
    fcntl.flock(9, fcntl.LOCK_EX | fcntl.LOCK_NB)
except BlockingIOError:
    print("Another set-up is at work here: waiting for it.", file=sys.stderr)
    fcntl.flock(9, fcntl.LOCK_EX)
except OSError:
    pass' 9>&9
}

end_turn() {
    exec 9>&-
    trap - INT TERM
}

make_venv() {
    log=$setup/venv.log
    rm -rf "$venv"
    "$base" -I -m venv --without-pip "$venv" >"$log" 2>&1 || stop "$base could not make an environment in $venv: see $log"
}

make_installer() {
    log=$setup/installer.log
    rm -rf "$installer"
    can_make_venv >"$log" 2>&1 || install_ensurepip
    "$base" -I -m venv "$installer" >>"$log" 2>&1 || stop "$base could not make an environment in $installer: see $log"
}

# The version is asked for because it is read from the files that ensurepip would install.
can_make_venv() { "$base" -I -c 'import venv, ensurepip; ensurepip.version()'; }

# Debian and Ubuntu keep a part of Python in a package of its own.
install_ensurepip() {
    package=$("$base" -I -c 'import sys; print("python%d.%d-venv" % sys.version_info[:2])')
    if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
        say "Installing $package, which $base lacks."
        export DEBIAN_FRONTEND=noninteractive
        { apt-get update && apt-get install -y --no-install-recommends "$package"; } >>"$log" 2>&1 &&
            can_make_venv >>"$log" 2>&1 && return
        stop "$package could not be installed, and without it $base cannot make environments. Details: $log"
    fi
    stop "$base cannot make environments: install the package $package (apt-get install $package), then start again."
}

# uv is the fast way: with the certificates it brings, then with the machine's, which some networks want. pip reads the
# same lock, so where uv has no build or does not get through, pip does it alone: without looking at what packages ask for,
# because a lock leaves out what pyproject.toml says is not needed.
# In a shell of its own, in the checkout: uv takes settings from the folder it is started in.
install_packages() (
    cd "$here" || exit 2
    make_installer
    log=$setup/install.log
    if install_uv >"$log" 2>&1 && { install_by_uv "$1" || install_by_uv "$1" --system-certs; } >>"$log" 2>&1; then
        :
    else
        say "The fast installer did not get through: trying pip, which takes longer."
        pip --python "$python" install --no-deps -r "$1" >>"$log" 2>&1 ||
            stop "The packages could not be installed: is there a network? Details: $log"
    fi
    link_package
    rm -rf "$installer"
)

install_uv() { pip install --only-binary :all: -r "$here/setup/installer.lock"; }

install_by_uv() {
    lock=$1
    shift
    "$installer/bin/python" -I -m uv pip sync --quiet --python "$python" "$@" --require-hashes "$lock"
}

# The words before "install" are for pip itself.
pip() {
    PIP_QUIET=1 PIP_NO_INPUT=1 PIP_DISABLE_PIP_VERSION_CHECK=1 PIP_REQUIRE_HASHES=1 "$installer/bin/python" -I -m pip "$@"
}

# Our own package needs no build: one line names the folder of its source, relative, so that any spelling of the path
# will do. What the command imports is compiled, so that it starts fast from the first time.
link_package() {
    site=$("$python" -I -c 'import sysconfig; print(sysconfig.get_path("purelib"))')
    printf '%s\n' ../../../../../src >"$site/trialfit.pth"
    (cd "$site" && rm -rf $unused)
    "$python" -I -m compileall -q -j 0 -x "site-packages/($rarely)/|/tests/" "$here/src" "$site" >>"$log" 2>&1 || :
    printf '%s\n' "$site"/* >"$venv/contents"
}

rarely="babel|mpmath|mujoco/[a-z]+|mypy|numpy/(testing|typing)|pygments|scipy|sphinx|sympy"

# What no module imports: tests, sources and manuals of packages, and solvers besides the one of planning/: 40 MB.
unused="fcl/fcl.cpp
    mujoco/doc mujoco/include mujoco/testdata mujoco/*_test.py
    numpy/tests numpy/*/tests
    ortools/algorithms ortools/constraint_solver ortools/graph ortools/linear_solver ortools/math_opt ortools/pdlp
    ortools/scheduling ortools/set_cover
    scipy/*/*.pyx scipy/*/*.h scipy/*/tests scipy/*/*/tests"
