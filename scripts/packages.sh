# Sourced by the other scripts: what Debian 12 packages are needed, and how to have them.

build_packages=(g++ cmake ninja-build pkg-config
  libocct-foundation-dev libocct-modeling-data-dev libocct-modeling-algorithms-dev libocct-ocaf-dev
  libocct-data-exchange-dev libocct-visualization-dev
  libcli11-dev libfmt-dev libtomlplusplus-dev libpolyclipping-dev libqrcodegencpp-dev libzip-dev libpugixml-dev rapidjson-dev libcairo2-dev libxlsxwriter-dev zlib1g-dev libgtest-dev)
# The folders without Open CASCADE, with another compiler and its own standard library.
second_compiler_packages=(clang libc++-dev libc++abi-dev lld-14 cmake ninja-build pkg-config dpkg-dev ca-certificates
  libfmt-dev libtomlplusplus-dev rapidjson-dev libfast-float-dev libzip-dev zlib1g-dev googletest python3 python3-ezdxf locales)
# The same folders for a browser.
wasm_packages=(emscripten node-acorn nodejs cmake ninja-build dpkg-dev ca-certificates
  libfmt-dev libtomlplusplus-dev rapidjson-dev libfast-float-dev zopfli)
deb_packages=(dpkg-dev file)
tidy_packages=(clang-tidy)
test_packages=(clang-format locales parallel python3 python3-ezdxf python3-shapely python3-openpyxl admesh python3-numpy
  chromium chromium-driver python3-selenium poppler-utils zbar-tools man-db solvespace zsh fish)

# Installs those of its arguments that are missing; quiet when all are there.
need_packages() {
  local missing=()
  local package
  for package in "$@"; do
    dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q 'ok installed' || missing+=("$package")
  done
  [ ${#missing[@]} -eq 0 ] && return 0
  if [ "$(id -u)" -ne 0 ]; then
    echo "Missing packages: ${missing[*]}. Run this once as root, or install them." >&2
    return 1
  fi
  echo "Installing ${missing[*]}"
  export DEBIAN_FRONTEND=noninteractive
  apt-get update -qq
  apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
}

# Configures one of scripts/builds (release, dev, asan, tidy, fuzz) with further cmake arguments.
configure() {
  local kind=$1
  shift
  cmake -C "scripts/builds/$kind.cmake" -S . -B "$(build_folder "$kind")" -G Ninja "$@" >/dev/null
}

# Configures and builds the named targets, or all of them.
build() {
  local kind=$1
  shift
  configure "$kind"
  cmake --build "$(build_folder "$kind")" -j "$(nproc)" ${1:+--target "$@"}
}

build_folder() {
  case $1 in release) echo build ;; *) echo "build/$1" ;; esac
}

# The commit before the work in hand: where the branch left that of origin, or where it has not, the last one three hours before
# HEAD. Nothing where there is no such commit: no git here, no history, or one cut short.
before_work() {
  local head branch base
  head=$(git rev-parse -q --verify HEAD 2>/dev/null) || return 0
  for branch in origin/HEAD origin/main; do
    base=$(git merge-base HEAD "$branch" 2>/dev/null) || continue
    [ "$base" = "$head" ] || { echo "$base" && return 0; }
  done
  git rev-list -1 --before=$(($(git log -1 --format=%ct) - 3 * 3600)) HEAD
}

# Runs ctest in a build folder with the further arguments, one test more at a time than there are cores, for some wait on a browser; ends with a line "N passed, N failed" and ctest's status.
run_tests() {
  local folder=$1
  shift
  local log status=0 summary failed all
  log=$(mktemp)
  ctest --test-dir "$folder" --output-on-failure -j "$(($(nproc) + 1))" "$@" | tee "$log" || status=$?
  # ctest closes with "98% tests passed, 2 tests failed out of 100"
  summary=$(sed -nE 's/^[0-9]+% tests passed, ([0-9]+) tests? failed out of ([0-9]+).*/\1 \2/p' "$log" | tail -n 1)
  rm -f "$log"
  if [ -z "$summary" ]; then
    echo "0 passed, 1 failed"
    return 1
  fi
  read -r failed all <<<"$summary"
  echo "$((all - failed)) passed, $failed failed"
  return "$status"
}
