#!/usr/bin/env bash
# Runs every test:            bash tests/run.sh
# Runs a long campaign:       bash tests/run.sh campaign kill --seed 7 --minutes 30
# Installs what is missing on Debian and its kin; elsewhere names it and exits 3.
set -euo pipefail
cd "$(dirname "$0")/.."
export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 DOTNET_CLI_UI_LANGUAGE=en

say() { printf '%s\n' "$*"; }

# command -> Debian package
need=(mosquitto:mosquitto mosquitto_pub:mosquitto-clients chromium:chromium fc-list:fontconfig aiosmtpd:python3-aiosmtpd nginx:nginx-light
    influxd:influxdb victoria-metrics:victoria-metrics)
has() { command -v "$1" >/dev/null 2>&1 || [ -x "/usr/sbin/$1" ]; }

require_tools() {
    if ! has dotnet; then
        say "Missing: the .NET SDK 10 (command 'dotnet'). Install it and run this again."
        exit 3
    fi
    local missing=() pair
    for pair in "${need[@]}"; do
        has "${pair%%:*}" || missing+=("${pair##*:}")
    done
    # Text in the pictures of the page needs at least one font.
    if has fc-list && [ -z "$(fc-list 2>/dev/null | head -n 1)" ]; then missing+=(fonts-dejavu-core); fi
    has fc-list || missing+=(fonts-dejavu-core)
    # The runtime needs the Unicode library for languages, zones and casing.
    if ! ldconfig -p 2>/dev/null | grep -q libicuuc; then missing+=("$(icu_package)"); fi
    [ "${#missing[@]}" -eq 0 ] && return
    if ! has apt-get; then
        say "Missing for the tests: ${missing[*]} (named as Debian packages). Install them and run this again."
        exit 3
    fi
    local as_root=()
    if [ "$(id -u)" -ne 0 ]; then
        has sudo || { say "Missing for the tests: ${missing[*]}. Install them as root and run this again."; exit 3; }
        as_root=(sudo)
    fi
    say "Installing for the tests: ${missing[*]}"
    "${as_root[@]}" apt-get update -qq
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
}

icu_package() {
    { apt-cache search --names-only '^libicu[0-9]+$' 2>/dev/null || true; } | awk '{print $1}' | sort -V | tail -n 1 | grep . || say libicu72
}

projects=(FermentWatch.Oenology.Tests FermentWatch.Monitoring.Tests FermentWatch.System.Tests)

run_all() {
    local log passed=0 failed=0 skipped=0 status=0 project names
    log=$(mktemp)
    names=$(mktemp)
    for project in "${projects[@]}"; do
        say "== $project"
        dotnet test --project "tests/$project" --no-build --configuration Release --fail-skips on 2>&1 | tee "$log" || status=1
        passed=$((passed + $(count succeeded "$log")))
        failed=$((failed + $(count failed "$log")))
        skipped=$((skipped + $(count skipped "$log")))
        # Told again at the end: where only the tail of a long output is kept, it must say what failed, and why.
        sed -nE '/^[[:space:]]*failed [^:]/,/^[[:space:]]*at /p' "$log" | head -n 200 >> "$names"
    done
    cat "$names"
    rm -f "$log" "$names"
    # A run that died before its summary counts nothing: never report that as green.
    if [ "$status" -ne 0 ] && [ "$failed" -eq 0 ]; then failed=1; fi
    say "$passed passed, $failed failed, $skipped skipped"
    [ "$status" -eq 0 ] && [ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
}

count() { sed -nE "s/^[[:space:]]*$1: ([0-9]+).*/\1/p" "$2" | tail -n 1 | grep . || say 0; }

# A campaign runs rounds, each with a seed of its own, until its minutes are over. Its log is appended to, and a later
# call with the same seed goes on with the round after the last one that the log holds. The pages may be looked at in slices, which are
# then one round: campaign pages --width 320,390 --theme dark --language de (default: every width, both themes, English).
campaign() {
    local name=${1:-} seed=1 minutes=10 bound="" widths=all
    shift || true
    while [ $# -gt 0 ]; do
        case $1 in
            --seed | --minutes)
                [[ ${2:-} =~ ^[0-9]+$ ]] || { say "$1 ${2:-}: expected a whole number."; exit 2; }
                if [ "$1" = --seed ]; then seed=$2; else minutes=$2 bound="--minutes $2"; fi
                shift 2 ;;
            --width | --theme | --language)
                [ "$name" = pages ] && [ -n "${2:-}" ] || { say "$1 is for pages, as in: campaign pages --width 320 --theme dark --language de"; exit 2; }
                case $1 in
                    --width) widths=$2 ;;
                    --theme) export FERMENTWATCH_PAGES_THEMES=$2 ;;
                    --language) export FERMENTWATCH_PAGES_LANGUAGES=$2 ;;
                esac
                shift 2 ;;
            *) say "Unknown option $1: use --seed S and --minutes M."; exit 2 ;;
        esac
    done
    local project class
    if [ "$name" = alerts ]; then
        alerts "$seed" "$bound"
        return
    fi
    if [ "$name" = mutation ]; then
        mutation "$seed"
        return
    fi
    case $name in
        kill) export FERMENTWATCH_KILLS=50; project=FermentWatch.System.Tests class='*Killing.KillTests' ;;
        notices) export FERMENTWATCH_NOTICE_KILLS=50; project=FermentWatch.System.Tests class='*NoticeKillTests' ;;
        forecast) export FERMENTWATCH_COVERAGE_FERMENTS=100; project=FermentWatch.Monitoring.Tests class='*ForecastCoverageTests' ;;
        # Nothing in it is drawn by lot: one round, unless somebody asks for minutes. What is finished is told as it goes.
        pages)
            export FERMENTWATCH_PAGES=$widths FERMENTWATCH_PAGES_PROGRESS=$PWD/artifacts/campaign-pages.progress
            [ -n "$bound" ] || minutes=0
            project=FermentWatch.System.Tests class='*PageMatrixTests'
            say "Finished parts: tail -f $FERMENTWATCH_PAGES_PROGRESS" ;;
        outage) export FERMENTWATCH_OUTAGE_HOURS=240; project=FermentWatch.System.Tests class='*CopyOutageTests' ;;
        fuzz) export FERMENTWATCH_INPUTS=1000000; project=FermentWatch.Monitoring.Tests class='*HostilePayloadTests' ;;
        *) say "Unknown campaign '$name': choose alerts, kill, notices, forecast, outage, fuzz, mutation or pages."; exit 2 ;;
    esac
    mkdir -p artifacts
    local log=artifacts/campaign-$name.log end=$((SECONDS + minutes * 60)) round failures=0
    touch "$log"
    round=$(grep -c "^round [0-9]* of seed $seed " "$log" || true)
    while :; do
        export FERMENTWATCH_CAMPAIGN_SEED=$((seed + round)) FERMENTWATCH_SEED=$((seed + round))
        if dotnet test --project "tests/$project" --no-build --configuration Release --fail-skips on \
            --filter-class "$class" --output Detailed --show-stdout all > "$log.round" 2>&1; then result=passed; else result=FAILED; failures=$((failures + 1)); fi
        { cat "$log.round"; say "round $round of seed $seed (its own seed $((seed + round))): $result"; } >> "$log"
        grep -vE '^ *$' "$log.round" | tail -n 25
        say "round $round of seed $seed: $result; the whole output is in $log"
        rm -f "$log.round"
        round=$((round + 1))
        [ "$SECONDS" -lt "$end" ] || break
    done
    [ "$failures" -eq 0 ]
}

# Precision, recall and delay of the alerts that have bars, and notices a week: on FERMENTWATCH_FERMENTS (default 216) ferments simulated from
# the seed, half of each kinetic structure, with spells of heat and cold and silences, and on the recordings in the folder FERMENTWATCH_RECORDINGS
# where one is named. Bounded by --minutes only where that is given; the log is appended to.
alerts() {
    mkdir -p artifacts
    local log=artifacts/campaign-alerts.log half=$((${FERMENTWATCH_FERMENTS:-216} / 2)) folder status=0
    local run="dotnet tests/FermentWatch.Benchmarks/bin/Release/net10.0/FermentWatch.Benchmarks.dll"
    folder=$(mktemp -d)
    {
        say "seed $1, $half simulated ferments of each structure, $(date -u +%FT%TZ)"
        if [ -n "${FERMENTWATCH_RECORDINGS:-}" ]; then
            say "recordings"
            nice -n 10 $run alerts "$FERMENTWATCH_RECORDINGS"
        fi
        say "simulated ferments with injected excursions and silences"
        nice -n 10 $run ferments "$folder" --count "$half" --seed "$1" --structure transporters --injected &&
            nice -n 10 $run ferments "$folder" --count "$half" --seed "$1" --structure cells --injected &&
            nice -n 10 $run alerts "$folder" --judgments artifacts/campaign-alerts.csv $2
    } 2>artifacts/campaign-alerts.progress | tee -a "$log" || status=1
    rm -rf "$folder"
    return "$status"
}

# Changes the formulas one small piece at a time and counts the changes that some test notices: a sample, not bounded by --minutes.
mutation() {
    mkdir -p artifacts
    python3 tests/mutation.py "$1" 2>&1 | tee -a artifacts/campaign-mutation.log | grep -aE '^(unnoticed|[0-9]+ of|[A-Za-z]+: |mutation score)'
}

require_tools
dotnet build FermentWatch.sln --configuration Release --verbosity quiet
if [ "${1:-}" = campaign ]; then
    shift
    campaign "$@"
else
    run_all
fi
