"""Mutants of formulas, ledger and checks: how many of a seeded sample the tests find, and which they do not.

`python -m benchmarks.mutation COUNT FOLDER` lays the coverage of each test and one line a mutant into FOLDER and prints a table.
cosmic-ray makes the mutants, of function bodies only: the tests are collected once, and each mutant is a fork in
which the code of one function is changed, so that a mutant costs the tests that reach its line and nothing else. Not made
are mutants of constants, defaults and decorators of modules, of what a test starts as a process of its own, and such as
put bit operators for arithmetic, which any test finds. Nothing here is a test; cosmic-ray and coverage are in no extra that CI takes.
"""

from __future__ import annotations

import ast
import gc
import importlib
import json
import math
import os
import random
import signal
import sys
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from types import CodeType, FunctionType
from typing import Any

import pytest

ROOT = Path(__file__).parent.parent
FOLDERS = ("generator/formulas", "generator/ledger", "generator/validate/checks")
TESTS = ("tests/reference", "tests/ledger", "tests/validate", "tests/properties", "tests/test_gallery.py")
SEED = 20_261_127
PROCESSES = 2
TESTS_S = 6.0  # of tests a mutant, the quickest first
PATIENCE_S = 25
BITS = ("BitOr", "BitAnd", "BitXor", "RShift", "LShift")


@dataclass(frozen=True, slots=True)
class Mutant:
    """One change of one place."""

    path: str
    operator: str
    occurrence: int
    line: int

    def text(self) -> str:
        """The changed module."""
        from cosmic_ray.mutating import mutate_code  # noqa: PLC0415 - a tool of this runner alone
        from cosmic_ray.plugins import get_operator  # noqa: PLC0415

        return str(
            mutate_code((ROOT / self.path).read_text("utf-8"), get_operator(self.operator)(), self.occurrence)
        )


def _operators() -> list[str]:
    from cosmic_ray.plugins import get_operator, operator_names  # noqa: PLC0415

    return [
        name
        for name in sorted(operator_names())
        if not any(f"_{bit}" in name for bit in BITS)
        and ("Comparison" not in name or ("_Is" in name) == name.endswith(("_Is", "_IsNot")))
        and not getattr(get_operator(name), "arguments", tuple)()
    ]


def mutants() -> Iterator[Mutant]:
    """All of them, in one order."""
    from cosmic_ray.ast import ast_nodes, get_ast  # noqa: PLC0415
    from cosmic_ray.plugins import get_operator  # noqa: PLC0415

    for path in sorted(path for folder in FOLDERS for path in (ROOT / folder).rglob("*.py")):
        text = path.read_text("utf-8")
        inside = {
            line
            for part in ast.walk(ast.parse(text))
            if isinstance(part, ast.FunctionDef)
            for line in range(part.body[0].lineno, (part.end_lineno or 0) + 1)
        }
        nodes = list(ast_nodes(get_ast(text)))
        for name in _operators():
            operator = get_operator(name)()
            places = [place for node in nodes for place in operator.mutation_positions(node)]
            for number, ((line, _), _) in enumerate(places):
                if line in inside:
                    yield Mutant(str(path.relative_to(ROOT)), name, number, line)


def _codes(code: CodeType) -> Iterator[CodeType]:
    """The functions of a module and of its classes, not those inside functions."""
    for part in code.co_consts:
        if isinstance(part, CodeType):
            yield part
            if not part.co_flags & 2:  # a class has no fast locals
                yield from _codes(part)


class Runner:
    """A plugin of pytest: learns what each test reaches, then runs the sample."""

    def __init__(self, count: int, folder: Path) -> None:
        """`folder` is laid anew."""
        self.count, self.folder = count, folder
        folder.mkdir(parents=True, exist_ok=True)

    def pytest_configure(self) -> None:
        """The same examples for each mutant, and none made smaller."""
        from hypothesis import Phase, settings  # noqa: PLC0415

        phases = [Phase.explicit, Phase.generate]
        settings.register_profile("mutants", phases=phases, max_examples=40, database=None, derandomize=True)
        settings.load_profile("mutants")

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """All tests, as they were collected."""
        self.items = {item.nodeid: item for item in items}

    def pytest_runtestloop(self) -> bool:
        """In place of running the tests once."""
        for path in (path for folder in FOLDERS for path in (ROOT / folder).rglob("*.py")):
            importlib.import_module(".".join(path.relative_to(ROOT).with_suffix("").parts))
        child = os.fork()
        if child == 0:
            self._learn()
            os._exit(0)
        assert os.waitpid(child, 0)[1] == 0, "the coverage of the tests came to nothing"
        self.took: dict[str, float] = json.loads((self.folder / "took.json").read_text())
        self.reach: dict[str, dict[str, list[str]]] = json.loads((self.folder / "reach.json").read_text())
        functions: defaultdict[tuple[str, str, int], list[FunctionType]] = defaultdict(list)
        for each in gc.get_objects():
            if isinstance(each, FunctionType):
                code = each.__code__
                functions[code.co_filename, code.co_qualname, code.co_firstlineno].append(each)
        self.functions = functions
        everything = list(mutants())
        sample = random.Random(SEED).sample(everything, min(self.count, len(everything)))
        print(f"{len(everything)} mutants, {len(sample)} in the sample, {len(self.items)} tests", flush=True)
        workers = [os.fork() or self._work(number, sample[number::PROCESSES]) for number in range(PROCESSES)]
        for worker in workers:
            os.waitpid(worker, 0)
        return True

    def _learn(self) -> None:
        import time  # noqa: PLC0415

        import coverage  # noqa: PLC0415

        watch = coverage.Coverage(
            data_file=None, source=[str(ROOT / each) for each in FOLDERS], config_file=False
        )
        watch.start()
        took = {}
        for name, item in self.items.items():
            watch.switch_context(name)
            begun = time.perf_counter()
            if self._passes(item):
                took[name] = time.perf_counter() - begun
        watch.stop()
        data = watch.get_data()
        reach = {
            str(Path(path).relative_to(ROOT)): {
                str(line): [name for name in names if name in took]
                for line, names in data.contexts_by_lineno(path).items()
            }
            for path in data.measured_files()
        }
        (self.folder / "took.json").write_text(json.dumps(took))
        (self.folder / "reach.json").write_text(json.dumps(reach))

    def _passes(self, item: pytest.Item) -> bool:
        from _pytest.runner import runtestprotocol  # noqa: PLC0415

        reports = runtestprotocol(item, log=False, nextitem=None)
        return not any(report.failed for report in reports)

    def _work(self, number: int, sample: list[Mutant]) -> int:
        with (self.folder / f"done-{number}.jsonl").open("w", encoding="utf-8") as done:
            for mutant in sample:
                child = os.fork()
                if child == 0:
                    signal.signal(signal.SIGALRM, signal.SIG_DFL)
                    signal.alarm(PATIENCE_S)
                    os._exit(self._judge(mutant))
                status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
                end = {
                    0: "survived",
                    1: "killed",
                    2: "reached by no test",
                    3: "no change",
                    -14: "timed out",
                }.get(status, "killed")
                done.write(
                    json.dumps(
                        {
                            "end": end,
                            "path": mutant.path,
                            "line": mutant.line,
                            "operator": mutant.operator,
                            "occurrence": mutant.occurrence,
                        }
                    )
                    + "\n"
                )
                done.flush()
        os._exit(0)

    def _judge(self, mutant: Mutant) -> int:
        if not self._change(mutant):
            return 3
        names = sorted(self.reach.get(mutant.path, {}).get(str(mutant.line), ()), key=self.took.__getitem__)
        if not names:
            return 2
        left = TESTS_S
        for name in names:
            left -= self.took[name]
            if not self._passes(self.items[name]):
                return 1
            if left < 0:
                break
        return 0

    def _change(self, mutant: Mutant) -> bool:
        """Put the changed code into the functions that live; False where no function is another."""
        path = str(ROOT / mutant.path)
        old = list(_codes(compile((ROOT / mutant.path).read_text("utf-8"), path, "exec", dont_inherit=True)))
        changed = False
        try:
            new = list(_codes(compile(mutant.text(), path, "exec", dont_inherit=True)))
        except SyntaxError:
            return False
        for before, after in zip(old, new, strict=True):
            if before != after:
                for function in self.functions[path, before.co_qualname, before.co_firstlineno]:
                    function.__code__ = after
                    changed = True
        return changed


def told(folder: Path) -> Iterator[str]:
    """The table, and a line for each mutant that lived."""
    rows: list[dict[str, Any]] = [
        json.loads(line) for part in sorted(folder.glob("done-*.jsonl")) for line in part.open()
    ]
    for place in (*FOLDERS, ""):
        ends = Counter(row["end"] for row in rows if row["path"].startswith(place))
        found = ends["killed"] + ends["timed out"]
        all_of = found + ends["survived"] + ends["reached by no test"]
        if all_of:
            low, high = wilson(found, all_of)
            yield f"{place or 'all':28} {all_of:5} run, {100 * found / all_of:.1f} % found ({100 * low:.1f} to {100 * high:.1f} %): {dict(ends)}"
    for row in sorted(rows, key=lambda row: (row["path"], row["line"])):
        if row["end"] in ("survived", "reached by no test"):
            yield f"{row['end']}: {row['path']}:{row['line']} {row['operator']} {row['occurrence']}"


def wilson(found: int, all_of: int) -> tuple[float, float]:
    """The interval of 95 % of a share; Wilson, as in the NIST/SEMATECH handbook, 7.2.4.1 (from memory)."""
    z, share = 1.959964, found / all_of
    middle = share + z * z / (2 * all_of)
    half = z * math.sqrt(share * (1 - share) / all_of + z * z / (4 * all_of * all_of))
    return (middle - half) / (1 + z * z / all_of), (middle + half) / (1 + z * z / all_of)


if __name__ == "__main__":
    where = Path(sys.argv[2])
    pytest.main(["-n", "0", "-p", "no:cacheprovider", *TESTS], plugins=[Runner(int(sys.argv[1]), where)])
    print("\n".join(told(where)))
