#!/usr/bin/env bash
# The long tier: every test with its full counts, every benchmark. What was measured goes into docs/validation.md,
# with date and machine, between the two markers there. Takes an hour or more; run it on a machine that does nothing else.
set -uo pipefail
cd "$(dirname "$0")/.."
export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 POSTPIPELINE_LONG=1
checks=$(cd .. && pwd)/shared/checks
[ -z "${POSTPIPELINE_CHECKS:-}" ] && [ -d "$checks" ] && export POSTPIPELINE_CHECKS="$checks"
page=docs/validation.md
begin='<!-- measured by tests/long.sh: begin -->'
end='<!-- measured by tests/long.sh: end -->'
report=$(mktemp)
output=$(mktemp)
trap 'rm -f "$report" "$output"' EXIT
status=0

dotnet build PostPipeline.sln -c Release --nologo -v q || { echo "the build failed"; exit 1; }
{
  echo "Measured $(date -u +%Y-%m-%d) on $(nproc) cores of $(awk -F': ' '/model name/ { print $2; exit }' /proc/cpuinfo)," \
    "$(awk '/MemTotal/ { printf "%.0f GB", $2 / 1e6 }' /proc/meminfo), .NET SDK $(dotnet --version), commit $(git rev-parse --short HEAD 2>/dev/null)."
  echo
} >"$report"

if dotnet test PostPipeline.sln -c Release --no-build --nologo >"$output" 2>&1; then :; else status=1; fi
{
  echo "### Tests with full counts"
  echo
  echo '```'
  grep -E '^(Passed!|Failed!|  Failed |Test Run Aborted)' "$output"
  echo '```'
  echo
} >>"$report"
grep -E '^(Passed!|Failed!|  Failed |Test Run Aborted)' "$output"

benchmarks=tests/Benchmarks/bin/Release/net10.0/PostPipeline.Benchmarks.dll
for area in $(dotnet "$benchmarks" list); do
  echo "benchmark: $area"
  dotnet "$benchmarks" "$area" >"$output" || { status=1; echo "(ended with an error)" >>"$output"; }
  {
    echo "### Benchmark: $area"
    echo
    echo '```'
    cat "$output"
    echo '```'
    echo
  } >>"$report"
done

grep -qF "$begin" "$page" || printf '\n## Measured\n\n%s\n%s\n' "$begin" "$end" >>"$page"
awk -v begin="$begin" -v end="$end" -v report="$report" '
  $0 == begin { print; print ""; while ((getline line < report) > 0) print line; inside = 1 }
  $0 == end { inside = 0 }
  !inside && $0 != begin { print }' "$page" >"$output" && cp "$output" "$page"
echo "written to $page"
exit "$status"
