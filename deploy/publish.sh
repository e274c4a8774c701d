#!/usr/bin/env bash
# Builds the program with its runtime, one file for each kind of machine:   bash deploy/publish.sh [linux-x64 linux-arm64]
# The result needs no .NET: Debian's libicu72, libssl3 and ca-certificates are enough.
set -euo pipefail
cd "$(dirname "$0")/.."
kinds=("$@")
[ "${#kinds[@]}" -gt 0 ] || kinds=(linux-x64 linux-arm64)
for kind in "${kinds[@]}"; do
    dotnet publish src/FermentWatch.Service --configuration Release --runtime "$kind" --self-contained true \
        -p:PublishSingleFile=true -p:EnableCompressionInSingleFile=true -p:IncludeNativeLibrariesForSelfExtract=true -p:DebugType=none \
        --output "artifacts/publish/$kind" --verbosity quiet --nologo
    ls -l "artifacts/publish/$kind/fermentwatch"
done
