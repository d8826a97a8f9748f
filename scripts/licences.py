#!/usr/bin/env python3
"""Checks licences and sources of all dependencies against deny.toml, without cargo-deny.

    python3 scripts/licences.py

An SPDX expression is met when its OR has one side, and its AND both sides, in the allowed list.
An old-style "A/B" counts as "A OR B". Exits with 1 and names each crate that is not met.
"""

import json
import pathlib
import re
import subprocess
import sys
import tomllib

ROOT = pathlib.Path(__file__).resolve().parent.parent


def tokens(text):
    text = re.sub(r"\s*/\s*", " OR ", text)
    text = re.sub(r"(\S+)\s+WITH\s+([^\s()]+)", r"\1_WITH_\2", text)
    return re.findall(r"[()]|[^\s()]+", text)


def met(text, allowed):
    """Whether a licence expression is met; AND binds closer than OR."""
    left = tokens(text)

    def one():
        token = left.pop(0)
        if token == "(":
            value = either()
            if not left or left.pop(0) != ")":
                raise ValueError(text)
            return value
        return token.replace("_WITH_", " WITH ") in allowed

    def both():
        value = one()
        while left and left[0] == "AND":
            left.pop(0)
            value = one() and value
        return value

    def either():
        value = both()
        while left and left[0] == "OR":
            left.pop(0)
            value = both() or value
        return value

    value = either()
    if left:
        raise ValueError(text)
    return value


def main():
    rules = tomllib.loads((ROOT / "deny.toml").read_text())
    allowed = set(rules["licenses"]["allow"])
    registries = set(rules["sources"]["allow-registry"])
    banned = {entry["crate"] for entry in rules["bans"]["deny"]}
    command = ["cargo", "metadata", "--format-version", "1", "--locked"]
    packages = json.loads(subprocess.run(command, cwd=ROOT, check=True, stdout=subprocess.PIPE).stdout)["packages"]
    faults = []
    for package in packages:
        name = f"{package['name']} {package['version']}"
        try:
            if not met(package["license"] or "none", allowed):
                faults.append(f"{name}: licence {package['license']} is not allowed")
        except (ValueError, IndexError):
            faults.append(f"{name}: licence {package['license']} cannot be read")
        source = package["source"]
        if source is not None and source.removeprefix("registry+") not in registries:
            faults.append(f"{name}: source {source} is not allowed")
        if package["name"] in banned:
            faults.append(f"{name}: banned")
    for fault in faults:
        print(fault)
    print(f"{len(packages)} packages looked at, {len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
