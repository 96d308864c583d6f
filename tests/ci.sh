#!/usr/bin/env bash
# The CI tier: the README's test command with every optional part installed and required.
set -euo pipefail
cd "$(dirname "$0")/.."
export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1
packages=(ffmpeg chromium)
missing=()
for package in "${packages[@]}"; do
  dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q 'install ok installed' || missing+=("$package")
done
if [ "${#missing[@]}" -gt 0 ]; then
  apt-get update -qq
  DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
fi
checks=$(cd .. && pwd)/shared/checks
[ -d "$checks" ] && export POSTPIPELINE_CHECKS="$checks"
export POSTPIPELINE_REQUIRE_OPTIONAL=1
results=$(mktemp -d)
trap 'rm -rf "$results"' EXIT
status=0
dotnet test PostPipeline.sln -c Release --logger trx --results-directory "$results" || status=$?
python3 - "$results" <<'PY' || status=1
import pathlib, re, sys
total = dict(passed=0, failed=0, executed=0, total=0)
for path in pathlib.Path(sys.argv[1]).glob("*.trx"):
    counters = re.search(r"<Counters ([^>]*)/?>", path.read_text(encoding="utf-8"))
    for key, value in re.findall(r'(\w+)="(\d+)"', counters.group(1)):
        if key in total:
            total[key] += int(value)
skipped = total["total"] - total["executed"]
print(f"{total['passed']} passed, {total['failed']} failed, {skipped} skipped")
sys.exit(0 if total["passed"] > 0 and total["failed"] == 0 else 1)
PY
exit "$status"
