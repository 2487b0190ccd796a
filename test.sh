#!/usr/bin/env bash
# Runs every test of the solution and prints the sum. Needs the .NET SDK of global.json and a Chromium.
set -uo pipefail
cd "$(dirname "$0")"
configuration=${1:-Release}
passed=0 failed=0 skipped=0 broken=0

dotnet build Leadwright.slnx -c "$configuration" --nologo -v quiet || exit 1
logs=$(mktemp -d)
trap 'rm -rf "$logs"' EXIT

run() {
  dotnet test --project "$1" -c "$configuration" --no-build >"$logs/$(basename "$1" .csproj)" 2>&1
  echo $? >"$logs/$(basename "$1" .csproj).code"
}

# The summary of a run: "  succeeded: 12", "  failed: 0", "  skipped: 0".
count() { sed -n "s/^ *$1: *\([0-9]\+\).*/\1/p" "$2" | tail -n 1; }

tell() {
  local log="$logs/$1"
  echo "== $1"
  cat "$log"
  passed=$((passed + $(count succeeded "$log" || true) + 0)) failed=$((failed + $(count failed "$log" || true) + 0)) skipped=$((skipped + $(count skipped "$log" || true) + 0))
  # Explicit tests are tools that rewrite committed files; they are not skipped checks.
  skipped=$((skipped - $(grep -c 'Not run (due to explicit' "$log" || true)))
  [ "$(cat "$log.code")" -eq 0 ] || broken=1
}

# The tests in a browser wait for it half of the time: the others run meanwhile.
screens=tests/Leadwright.Browser.Tests/Leadwright.Browser.Tests.csproj
run "$screens" &
for project in tests/*/*.csproj; do
  [ "$project" = "$screens" ] && continue
  run "$project"
  tell "$(basename "$project" .csproj)"
done
wait
tell Leadwright.Browser.Tests

echo
echo "$passed passed, $failed failed, $skipped skipped"
[ "$broken" -eq 0 ] && [ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
