# Sourced by play.sh and tests/run.sh: makes sure that the Debian packages named by the caller are installed.
# need PACKAGE...   installs what is missing, as root or by sudo; says plainly what is needed where neither is there.
need() {
    missing=
    for package in "$@"; do
        dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q 'ok installed' || missing="$missing $package"
    done
    [ -z "$missing" ] && return 0
    if ! command -v apt-get >/dev/null 2>&1; then
        echo "tautrow: this machine has no apt-get. Install what these Debian packages hold, then run again:$missing" >&2
        return 2
    fi
    if [ "$(id -u)" -eq 0 ]; then
        as_root=
    elif command -v sudo >/dev/null 2>&1; then
        as_root=sudo
    else
        echo "tautrow: these packages are missing and there is neither root nor sudo. As root: apt-get install$missing" >&2
        return 2
    fi
    echo "tautrow: installing$missing"
    log=$(mktemp)
    # shellcheck disable=SC2086 # the list is meant to split
    if ! { $as_root apt-get -o DPkg::Lock::Timeout=300 -qq update &&
        $as_root env DEBIAN_FRONTEND=noninteractive apt-get -o DPkg::Lock::Timeout=300 -qq -y install \
            --no-install-recommends $missing; } >"$log" 2>&1; then
        tail -n 20 "$log" >&2
        rm -f "$log"
        echo "tautrow: the packages could not be installed:$missing" >&2
        return 2
    fi
    rm -f "$log"
}

# What the program is built from and runs on.
build_packages="gcc libc6-dev cmake ninja-build pkg-config libsdl2-dev libsdl2-ttf-dev libcairo2-dev libfreetype-dev libcjson-dev libsodium-dev libgsl-dev fonts-lato fonts-dejavu-core"
