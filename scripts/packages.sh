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
# What .ci/run compiles with (scripts/builds/quick.cmake).
quick_packages=(clang)
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

# Configures one of scripts/builds (release, quick, dev, asan, tidy, fuzz) with further cmake arguments.
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

# Counts tests in the log that ctest leaves: a program of several tests says of each how it went; any other is one, and so is a program
# that ended before it could say what failed. Prints "passed failed".
count_tests() {
  awk '
    function close_entry() {
      if (!open) return
      # ctest says Failed of one that was left out, too
      if (ended != "Passed" && bad == 0 && !(good == 1 && skipped == 1)) bad = 1
      else if (good + bad == 0) good = 1
      passed += good
      failed += bad
      open = 0
    }
    /^[0-9]+\/[0-9]+ Test: / { close_entry(); open = 1; good = bad = skipped = 0; ended = "" }
    /^\[       OK \] / { good++ }
    /^\[  SKIPPED \] .*\([0-9]+ ms\)$/ { good++; skipped++ }
    /^\[  FAILED  \] .*\([0-9]+ ms\)$/ { bad++ }
    /^Test (Passed|Failed)\.$/ { ended = substr($2, 1, length($2) - 1) }
    END { close_entry(); print passed + 0, failed + 0 }' "$1"
}

# Runs ctest in a build folder with the further arguments, one test more at a time than there are cores, for some wait on a browser;
# ends with a line "N passed, N failed" over single tests, of which a suite may hold many, and ctest's status.
run_tests() {
  local folder=$1
  shift
  local status=0 passed failed
  rm -f "$folder/Testing/Temporary/LastTest.log"
  ctest --test-dir "$folder" --output-on-failure --test-output-size-passed 10000000 --test-output-size-failed 10000000 \
    -j "$(($(nproc) + 1))" "$@" || status=$?
  read -r passed failed < <(count_tests "$folder/Testing/Temporary/LastTest.log" 2>/dev/null) || true
  if [ "$((${passed:-0} + ${failed:-0}))" -eq 0 ]; then
    echo "0 passed, 1 failed"
    return 1
  fi
  [ "$status" -eq 0 ] || [ "$failed" -ne 0 ] || failed=1
  echo "$passed passed, $failed failed"
  return "$status"
}
