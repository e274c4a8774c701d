#!/usr/bin/env python3
"""Measures how many small changes of the formulas some test notices.

Stryker makes the changed library, all changes in one assembly, each switched on by its number. Its own way of running tests over
the test platform loses them here, so the tests are run from here: a seeded sample of the changes, each in a process of its own,
first all quick tests, then, for a change that none of them noticed, the snapshots of every sheet. Tests that take seconds each are
left out, which can only lower the score. Called by: bash tests/run.sh campaign mutation --seed S   (FERMENTWATCH_MUTANTS: how many, 250)
"""
import collections
import concurrent.futures
import json
import os
import pathlib
import random
import shutil
import subprocess
import sys
import time

ROOT = pathlib.Path(__file__).resolve().parent.parent
WORK = ROOT / "artifacts" / "mutation"
TESTS = "tests/FermentWatch.Oenology.Tests"
LIBRARY = "FermentWatch.Oenology.dll"
SLOW = ["*CornersOfTheRanges*", "*SweeterWine_NeedsMore*", "*SweetenerFound_Gives*", "*DoseForAPh_GivesThePh*", "*LargePanelOfSixGlasses*",
        "*Fit_MeetsBothMeasurements*", "*Blend_LiesBetweenItsParts*", "*WhatIsDissolved_IsKept*", "*MoreBaseRaisesPhAndMoreAcid*",
        "*OrderAndGrouping_DoNotMatter*", "*Plan_GivesEveryGram*", "*MoreAcid_LowersPhAndRaises*", "*MoreOfTheStronger_IsStronger*"]
SNAPSHOTS = "*Sheet_IsAsItWas*"
ONE_TEST = """using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tests;

public class OneTests
{
    [Fact]
    public void Ratio_IsKept() => Assert.Equal(1.05, SpecificGravity.FromRatio(1.05).Value);
}
"""


def make_changes():
    """The changed library in WORK/bin beside all tests, and the list of the changes."""
    shutil.rmtree(WORK, ignore_errors=True)
    tree = WORK / "tree"
    tree.mkdir(parents=True)
    archive = subprocess.run(["git", "archive", "HEAD"], cwd=ROOT, check=True, capture_output=True).stdout
    subprocess.run(["tar", "-x", "-C", tree], input=archive, check=True)
    subprocess.run(["dotnet", "build", TESTS, "--configuration", "Debug", "--verbosity", "quiet"], cwd=tree, check=True)
    built = tree / TESTS / "bin/Debug/net10.0"
    shutil.copytree(built, WORK / "bin")
    # A change that the one quick test left here never runs is only listed by Stryker, not tried: so it is soon through, and its report
    # names every change that compiles.
    for entry in (tree / TESTS).iterdir():
        if entry.is_dir() and entry.name not in ("ReferenceData", "Snapshots"):
            shutil.rmtree(entry)
        elif entry.suffix == ".cs" and entry.name != "GlobalUsings.cs":
            entry.unlink()
    (tree / TESTS / "OneTests.cs").write_text(ONE_TEST)
    settings = {"test-runner": "mtp", "project": "FermentWatch.Oenology.csproj", "coverage-analysis": "all", "concurrency": 2, "reporters": ["json"]}
    (tree / TESTS / "stryker-config.json").write_text(json.dumps({"stryker-config": settings}))
    subprocess.run(["dotnet", "tool", "restore"], cwd=tree, check=True)
    # On a busy machine the default four seconds are too few to find the SDK.
    patient = dict(os.environ, DOTNET_INFO_WAIT_TIME="120000")
    stryker = subprocess.Popen(["dotnet", "stryker", "--output", WORK / "report"], cwd=tree / TESTS, env=patient)
    marker = "STRYKER_MUTANT".encode("utf-16-le")
    while stryker.poll() is None:
        changed = built / LIBRARY
        if changed.exists() and marker in changed.read_bytes():
            shutil.copy(changed, WORK / "bin" / LIBRARY)
        time.sleep(5)
    report = next((WORK / "report").rglob("mutation-report.json"), None)
    if stryker.returncode != 0 or report is None:
        sys.exit("Stryker ended without its report; what it said stands above.")
    return json.loads(report.read_text())


def listed(report):
    for file, content in report["files"].items():
        name = file.split("FermentWatch.Oenology/")[-1]
        lines = content["source"].split("\n")
        for change in content["mutants"]:
            if change["status"] in ("Survived", "NoCoverage", "Killed", "Timeout"):
                line = change["location"]["start"]["line"]
                yield int(change["id"]), name, line, change["mutatorName"], change["replacement"], lines[line - 1].strip()


def passes(number, filters):
    # Stryker's switch: the name of a variable, and in it the number of the change.
    environment = dict(os.environ, STRYKER_MUTANT_ID_CONTROL_VAR="FERMENTWATCH_CHANGE", FERMENTWATCH_CHANGE=str(number))
    command = [WORK / "bin" / "FermentWatch.Oenology.Tests", "--stop-on-fail", "on", *filters]
    try:
        return subprocess.run(command, env=environment, capture_output=True, timeout=600).returncode == 0
    except subprocess.TimeoutExpired:
        return False


def noticed(change):
    quick = passes(change[0], ["--filter-not-method", SNAPSHOTS, *SLOW])
    return change, not (quick and passes(change[0], ["--filter-method", SNAPSHOTS]))


def main():
    seed, count = int(sys.argv[1]), int(os.environ.get("FERMENTWATCH_MUTANTS", "250"))
    changes = sorted(listed(make_changes()))
    if noticed((10 ** 9,))[1]:
        sys.exit("The tests fail without any change.")
    sample = random.Random(seed).sample(changes, min(count, len(changes)))
    tally = collections.defaultdict(collections.Counter)
    with concurrent.futures.ThreadPoolExecutor(2) as workers:
        for place, (change, is_noticed) in enumerate(workers.map(noticed, sample), 1):
            tally[change[1].split("/")[0]][is_noticed] += 1
            if not is_noticed:
                print(f"unnoticed: {change[1]}:{change[2]} {change[3]}: {change[4]}  <- {change[5]}", flush=True)
            if place % 25 == 0:
                print(f"{place} of {len(sample)}", flush=True)
    for folder, counts in sorted(tally.items()):
        print(f"{folder}: {counts[True]} of {counts.total()}")
    hits = sum(counts[True] for counts in tally.values())
    print(f"mutation score {100 * hits / len(sample):.1f} % ({hits} of {len(sample)} of {len(changes)} changes, seed {seed})")


if __name__ == "__main__":
    main()
