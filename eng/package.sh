#!/usr/bin/env bash
# Makes what people get: the .NET tool package and, for each system, one program file that needs nothing
# installed, with the screens' files beside it. Usage: eng/package.sh [RID…]
# The builds that this machine can run are run: the check of the README's example, and the first page of the screens.
set -euo pipefail
cd "$(dirname "$0")/.."
out=artifacts/packages
rids=("$@")
[ ${#rids[@]} -gt 0 ] || rids=(linux-x64 linux-arm64 win-x64 osx-x64 osx-arm64)
mkdir -p "$out"

echo "== tool package"
dotnet pack src/Leadwright.App -c Release -o "$out" --nologo -v quiet
for rid in "${rids[@]}"; do
  echo "== $rid"
  dotnet publish src/Leadwright.App -c Release -r "$rid" -p:LeadwrightOneFile=true -o "$out/$rid" --nologo -v quiet
  rm -f "$out/$rid"/*.pdb
  tar -czf "$out/leadwright-$rid.tar.gz" -C "$out" "$rid"
done

# Runs a build as a person would: version, a check, the screens.
try() {
  "$@" --version
  local code=0
  "$@" check docs/examples/readings.json >/dev/null || code=$?
  [ "$code" -eq 10 ] || { echo "check answered $code, not 10" >&2; return 1; }
  "$@" serve --port 5497 >/dev/null & local host=$!
  local page=1
  for _ in $(seq 1 60); do
    if curl -sf http://localhost:5497/ | grep -q '<title>Leadwright' && curl -sf -o /dev/null http://localhost:5497/_framework/blazor.webassembly.js; then page=0; break; fi
    sleep 0.5
  done
  kill "$host" 2>/dev/null || true
  wait "$host" 2>/dev/null || true
  [ "$page" -eq 0 ] || { echo "the screens did not answer" >&2; return 1; }
}

here="linux-$(uname -m | sed 's/x86_64/x64/; s/aarch64/arm64/')"
if [ -x "$out/$here/leadwright" ]; then
  echo "== run $here"
  try "$out/$here/leadwright"
fi
echo "== install the tool and run it"
tools=$(mktemp -d)
dotnet tool install Leadwright --tool-path "$tools" --add-source "$out" --prerelease >/dev/null
try "$tools/leadwright"
rm -rf "$tools"

# The others can't be run here: what can be seen from outside is that they are programs of their system.
for rid in "${rids[@]}"; do
  program="$out/$rid/leadwright"; [ -f "$program" ] || program="$program.exe"
  case $rid in
    win-*) magic=4d5a ;;
    osx-*) magic=cffaedfe ;;
    *) magic=7f454c46 ;;
  esac
  head -c 4 "$program" | od -An -tx1 | tr -d ' \n' | grep -q "^$magic" || { echo "$program is no program of $rid" >&2; exit 1; }
done
(cd "$out" && find . -maxdepth 1 -type f \( -name '*.tar.gz' -o -name '*.nupkg' \) | sort | xargs sha256sum > SHA256SUMS && cat SHA256SUMS)
