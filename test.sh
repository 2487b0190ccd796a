#!/usr/bin/env bash
# Runs every test of the solution and prints the sum. Needs the .NET SDK of global.json and a Chromium.
set -uo pipefail
cd "$(dirname "$0")"
configuration=${1:-Release}
passed=0 failed=0 skipped=0 broken=0

dotnet build Leadwright.slnx -c "$configuration" --nologo -v quiet || exit 1
for project in tests/*/*.csproj; do
  echo "== $(basename "$project" .csproj)"
  log=$(mktemp)
  dotnet test --project "$project" -c "$configuration" --no-build 2>&1 | tee "$log"
  code=${PIPESTATUS[0]}
  # The summary of a run: "  succeeded: 12", "  failed: 0", "  skipped: 0".
  count() { sed -n "s/^ *$1: *\([0-9]\+\).*/\1/p" "$log" | tail -n 1; }
  passed=$((passed + $(count succeeded || true) + 0)) failed=$((failed + $(count failed || true) + 0)) skipped=$((skipped + $(count skipped || true) + 0))
  # Explicit tests are tools that rewrite committed files; they are not skipped checks.
  skipped=$((skipped - $(grep -c 'Not run (due to explicit' "$log" || true)))
  [ "$code" -eq 0 ] || broken=1
  rm -f "$log"
done

echo
echo "$passed passed, $failed failed, $skipped skipped"
[ "$broken" -eq 0 ] && [ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
