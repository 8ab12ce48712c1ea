#!/usr/bin/env python3
"""Holds what the program prints against its published schemas, with an independent validator.

    schemas.py PROGRAM FOLDER_OR_NOTE ...

Every note below the folders is read (`read --format json`), every folder and note is checked (`check --format json`), and
each path is compared with the one before it (`compare --format json`); each output must fit its schema, and the schema itself must be a valid JSON Schema 2020-12. To be sure that the schema
also names every field, it is applied once more with unknown fields forbidden. Needs: pip install jsonschema.
"""
import copy
import json
import subprocess
import sys
from pathlib import Path

from jsonschema import Draft202012Validator

ENDINGS = (".txt", ".vtt", ".srt", ".md")


def output(*command):
    run = subprocess.run(command, capture_output=True, text=True)
    return run.stdout if run.returncode in (0, 1) else None


def strict(schema):
    """The schema with every object closed."""
    closed = copy.deepcopy(schema)

    def close(part):
        if isinstance(part, dict):
            if "properties" in part:
                part["additionalProperties"] = False
            for value in part.values():
                close(value)
        elif isinstance(part, list):
            for value in part:
                close(value)

    close(closed)
    return closed


def validators(program, which):
    schema = json.loads(output(program, "schema", which))
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema), Draft202012Validator(strict(schema))


def main():
    program, paths = sys.argv[1], [Path(path) for path in sys.argv[2:]]
    if not paths:
        sys.exit(__doc__)
    facts, findings = validators(program, "facts"), validators(program, "findings")
    comparison = validators(program, "comparison")
    notes = [note for path in paths for note in ([path] if path.is_file() else sorted(path.rglob("*")))]
    notes = [note for note in notes if note.suffix in ENDINGS and not note.name.startswith("_")]
    judged = wrong = 0
    jobs = [(note, "read", facts) for note in notes] + [(path, "check", findings) for path in paths + notes]
    jobs = [((path,), command, checks) for path, command, checks in jobs]
    jobs += [(pair, "compare", comparison) for pair in zip(paths, paths[1:])]
    for path, command, checks in jobs:
        printed = output(program, command, "--format", "json", *map(str, path))
        if printed is None:
            continue
        judged += 1
        for validator in checks:
            for error in validator.iter_errors(json.loads(printed)):
                wrong += 1
                print(f"{command} {' '.join(map(str, path))}: {error.json_path}: {error.message}")
    # A validator that accepts anything would accept this.
    assert list(findings[1].iter_errors({"findings": [{"file": "a"}]})), "the schema forbids nothing"
    print(f"{judged} outputs judged, {wrong} misfits")
    sys.exit(0 if judged and not wrong else 1)


if __name__ == "__main__":
    main()
