#!/usr/bin/env bash
# The CI tier: the README's test command with every optional part installed and required.
# The last line is always "N passed, N failed, N skipped". Exit status 0 only where something ran and nothing failed.
set -uo pipefail
cd "$(dirname "$0")/.."
export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 POSTPIPELINE_REQUIRE_OPTIONAL=1
# Tests start many short processes; measuring each of their methods before compiling it again costs more than it gives.
export DOTNET_TieredPGO=0
limit_seconds=840
results=$(mktemp -d)
status=1

# Sums the counters of the result files; needs nothing but awk. A run that ended badly without a failed test in its
# files (a build error, a crash, the time limit) counts as one failure.
finish() {
  local passed=0 failed=0 skipped=0
  read -r passed failed skipped < <(cat "$results"/*.trx 2>/dev/null | awk '
    function value(name,    text) {
      if (!match($0, " " name "=\"[0-9]+\"")) return 0
      text = substr($0, RSTART, RLENGTH); gsub(/[^0-9]/, "", text); return text + 0
    }
    /<Counters / { total += value("total"); executed += value("executed"); passed += value("passed") }
    END { print passed + 0, executed - passed, total - executed }')
  rm -rf "$results"
  [ "$failed" -eq 0 ] && [ "$passed" -gt 0 ] && [ "$status" -eq 0 ] || status=1
  [ "$status" -ne 0 ] && [ "$failed" -eq 0 ] && failed=1
  echo "$passed passed, $failed failed, $skipped skipped"
  exit "$status"
}
trap finish EXIT
trap 'status=1; exit 1' INT TERM

missing=()
for package in ffmpeg chromium jupyter-nbconvert jupyter-notebook; do
  dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q 'install ok installed' || missing+=("$package")
done
if [ "${#missing[@]}" -gt 0 ]; then
  echo "installing ${missing[*]}"
  apt-get update -qq
  DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null \
    || echo "could not install ${missing[*]}; the tests that need them will fail and say so"
fi
checks=$(cd .. && pwd)/shared/checks
[ -d "$checks" ] && export POSTPIPELINE_CHECKS="$checks"

start=$SECONDS
dotnet build PostPipeline.sln -c Release --nologo -v q || { echo "the build failed"; exit 1; }
# One more test project at a time than a small machine has cores: browser and kernels wait a good part of their time.
timeout --signal=INT --kill-after=20 "$((limit_seconds - SECONDS + start))" \
  dotnet test PostPipeline.sln -c Release --no-build --nologo -m:3 -p:CountTests=true --results-directory "$results"
status=$?
[ "$status" -eq 124 ] && echo "stopped after ${limit_seconds} s"
exit "$status"
