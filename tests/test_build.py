"""build.py's own judgement: versions, fingerprints, counts and what it says."""

from __future__ import annotations

import importlib.util
import subprocess
import sys
from pathlib import Path

import pytest
from loadfall.tests.tooling import environment, extension, problems, pythons, suite
from loadfall.tests.tooling.running import ROOT, ProblemError, run_logged

PYTHON_311 = pythons.Python("python3.11", (3, 11))


def build(*arguments, **options):
    command = [sys.executable, str(ROOT / "build.py"), *arguments]
    return subprocess.run(command, capture_output=True, text=True, **options)


@pytest.mark.parametrize(
    "job", ["demo", "explain", "test", "bench", "package", "samples", "clean"]
)
def test_every_command_has_its_help(job):
    done = build(job, "--help")
    assert done.returncode == 0
    assert f"build.py {job}" in done.stdout


def test_an_unknown_command_is_refused():
    done = build("deploy")
    assert done.returncode == 2
    assert "invalid choice" in done.stderr


def test_the_bench_takes_the_file_for_its_figures():
    """``build.py bench --json FILE``; the bench itself reads the same words."""
    told = build("bench", "--help").stdout
    assert "--json FILE" in told
    assert "--sizes" in told
    script = str(ROOT / "tests" / "bench" / "run.py")
    asked = [sys.executable, script, "--json", "figures.json", "--sizes", "", "--help"]
    done = subprocess.run(asked, capture_output=True, text=True, check=False)
    assert done.returncode == 0
    assert "--json FILE" in done.stdout


# ------------------------------------------------------------------ Python and bpy


@pytest.mark.parametrize(
    ("version", "line", "needs"),
    [((3, 11), "4.5", "numpy>=1.26,<2"), ((3, 13), "5.2", "numpy>=2.2,<3")],
)
def test_the_wheel_fits_the_python(monkeypatch, version, line, needs):
    """bpy 4.5 is built for Python 3.11 and NumPy 1, bpy 5.2 for 3.13 and NumPy 2."""
    found = pythons.Python("python", version)
    monkeypatch.setattr(environment, "find_python", lambda versions, name: found)
    assert environment.choose(None, None, solver_only=False) == (found, line)
    wanted = environment.requirements(line)
    assert f"bpy=={line}.*" in wanted
    assert needs in wanted


def test_a_line_asks_for_its_own_python(monkeypatch):
    asked = []

    def find(versions, name):
        asked.extend(versions)
        return pythons.Python("python", versions[0])

    monkeypatch.setattr(environment, "find_python", find)
    assert environment.choose("5.0", None, solver_only=False)[1] == "5.0"
    assert asked == [(3, 11)]


def test_the_solver_alone_needs_no_bpy():
    wanted = environment.requirements(None)
    assert not any("bpy" in need for need in wanted)
    assert any("pytest" in need for need in wanted)


def test_a_lean_environment_leaves_the_peers_out():
    whole, lean = (environment.requirements("4.2", lean) for lean in (False, True))
    assert set(whole) - set(lean) == {*environment.FILES, *environment.PEERS}


def test_this_interpreter_is_asked_first(monkeypatch):
    monkeypatch.setattr(pythons, "commands_for", lambda version: [])
    here = sys.version_info[:2]
    assert pythons.find_python([(2, 6), here]).version == here


def test_another_interpreter_on_the_path_is_found(monkeypatch):
    """A shim that starts nothing, or another version, is passed over."""
    answers = {
        "shim": None,
        "other": pythons.Python("other", (3, 12)),
        "right": PYTHON_311,
    }
    monkeypatch.setattr(pythons.sys, "version_info", (3, 9, 1))
    monkeypatch.setattr(pythons, "commands_for", lambda v: [["shim"], ["right"]])
    monkeypatch.setattr(pythons, "probe", lambda command: answers[command[0]])
    assert pythons.find_python([(3, 11)]) == PYTHON_311
    monkeypatch.setattr(pythons, "commands_for", lambda v: [["other"], ["shim"]])
    assert pythons.find_python([(3, 11)]) is None


def test_a_named_interpreter_that_is_none_is_refused():
    with pytest.raises(ProblemError, match="--python no-such-python"):
        pythons.find_python([(3, 11)], "no-such-python")


def test_probe_tells_the_version():
    found = pythons.probe([sys.executable])
    assert found.version == sys.version_info[:2]
    assert Path(found.path).exists()
    assert pythons.probe([sys.executable, "-c", "1/0"]) is None


# ---------------------------------------------------------------------- fingerprint


def test_the_fingerprint_follows_what_was_asked():
    """Any change in needs, interpreter or install settings remakes the environment."""
    project = "[project]\nversion = '1'\n[tool.pytest.ini_options]\nx = 1\n"
    base = environment.stamp_of(["numpy<2"], PYTHON_311, project)
    others = [
        environment.stamp_of(["numpy<3"], PYTHON_311, project),
        environment.stamp_of(["numpy<2"], pythons.Python("p", (3, 11)), project),
        environment.stamp_of(["numpy<2"], PYTHON_311, project.replace("'1'", "'2'")),
    ]
    assert base not in others
    assert len(set(others)) == len(others)
    assert base == environment.stamp_of(
        ["numpy<2"], PYTHON_311, project.replace("x = 1", "x = 2")
    )


def test_a_ready_environment_is_left_alone(monkeypatch, tmp_path):
    """The second run starts no pip; a changed requirement does."""
    ran = []

    def run(command, name, *_, **__):
        ran.append(name)
        if name == "venv":
            python = environment.Environment(Path(command[-1]), None).python
            python.parent.mkdir(parents=True)
            python.touch()

    (tmp_path / "pyproject.toml").write_text("[project]\n")
    monkeypatch.setattr(environment, "ROOT", tmp_path)
    monkeypatch.setattr(environment, "run_logged", run)
    monkeypatch.setattr(environment, "find_python", lambda versions, name: PYTHON_311)
    env = environment.make_environment()
    assert env.folder == tmp_path / ".venv"
    assert ran == ["venv", "pip", "pip-data", "pip-project", "bpy"]
    ran.clear()
    assert environment.make_environment() == env
    assert ran == []
    monkeypatch.setattr(environment, "TOOLS", ("pytest==9",))
    environment.make_environment()
    assert ran == ["pip", "pip-data", "pip-project", "bpy"]


def test_an_installation_that_failed_is_tried_again(monkeypatch, tmp_path):
    ran = []

    def run(command, name, *_, **__):
        ran.append(name)
        environment.Environment(tmp_path / ".venv", None).python.parent.mkdir(
            parents=True, exist_ok=True
        )
        if name == "pip":
            raise ProblemError("no index")

    (tmp_path / "pyproject.toml").write_text("[project]\n")
    monkeypatch.setattr(environment, "ROOT", tmp_path)
    monkeypatch.setattr(environment, "run_logged", run)
    monkeypatch.setattr(environment, "find_python", lambda versions, name: PYTHON_311)
    for _ in range(2):
        with pytest.raises(ProblemError, match="no index"):
            environment.make_environment()
    assert ran.count("pip") == 2


# --------------------------------------------------------------- what to do about it


@pytest.mark.parametrize("running", [(3, 9), (3, 12)])
def test_an_unfit_python_is_told_which_fits(running):
    text = pythons.no_python_text([(3, 11), (3, 13)], running, "posix")
    assert f"this is Python {running[0]}.{running[1]}" in text
    assert "Python 3.11 or 3.13" in text
    assert "--python PATH" in text
    assert "--solver-only" in text


def test_a_python_without_venv_is_told_the_package():
    text = pythons.no_python_text([(3, 11)], (3, 11), "posix")
    assert "apt-get install python3.11-venv" in text


@pytest.mark.parametrize(
    "output",
    [
        "NewConnectionError('... [Errno 111] Connection refused')",
        "[Errno -3] Temporary failure in name resolution",
        "ProxyError('Cannot connect to proxy.')",
    ],
)
def test_an_unreachable_index_is_named(output):
    """pip goes on to say that no version was found; that is not the cause."""
    late = "\nERROR: No matching distribution found for bpy==4.5.*"
    text = problems.pip_text(output + late)
    assert "No package index could be reached" in text
    assert "PIP_INDEX_URL" in text


def test_a_platform_without_wheel_is_named():
    text = problems.pip_text("ERROR: No matching distribution found for bpy==4.5.*")
    assert "no bpy wheel for" in text
    assert "--solver-only" in text


def test_a_missing_system_library_is_named_with_its_package():
    text = problems.bpy_text(
        "ImportError: libXi.so.6: cannot open shared object file: No such file"
    )
    assert "libXi.so.6" in text
    assert "libxi6" in text
    assert "dnf install" in text


@pytest.mark.parametrize(
    ("line", "shown"),
    [
        (
            "  Downloading bpy-4.5.15-cp311-cp311-manylinux_2_28_x86_64.whl (372.8 MB)",
            "  downloading bpy-4.5.15-cp311-cp311-manylinux_2_28_x86_64 (372.8 MB)",
        ),
        ("Downloading https://x.example/a/scipy-1-cp311.whl (35 MB)", "scipy-1-cp311"),
        ("  Downloading six-1.16.0-py2.py3-none-any.whl (11 kB)", None),
        ("Installing collected packages: a, b, c", "  unpacking 3 packages"),
        ("Collecting numpy", None),
    ],
)
def test_only_the_long_steps_of_pip_are_shown(line, shown):
    if shown is None:
        assert problems.pip_progress(line) is None
    else:
        assert shown in problems.pip_progress(line)


def test_a_failed_step_shows_its_output_and_its_log(capsys):
    code = "print('> half way'); print('the cause'); raise SystemExit(3)"
    shown = []
    with pytest.raises(ProblemError, match=r"(?s)probe failed.*out/log/probe.log"):
        run_logged([sys.executable, "-c", code], "probe", shown.append)
    assert shown == ["> half way", "the cause"]
    assert "the cause" in capsys.readouterr().out


# -------------------------------------------------------------------------- the suite


def names(extra, with_bpy=True, others=None):
    groups = suite.split_groups(Path("python"), with_bpy, others or {}, extra)
    return {group.name: group.arguments for group in groups}


def test_solver_and_addon_run_apart():
    """The solver's tests must be able to say that bpy was never loaded."""
    found = names(["-x"])
    assert found["solver"] == ("-x", "--ignore=tests/addon", "tests")
    if (ROOT / "tests/addon").is_dir():
        assert found["addon"] == ("-x", "tests/addon")


def test_paths_choose_what_runs():
    found = names(["tests/test_build.py::test_paths_choose_what_runs", "-q"])
    assert list(found) == ["solver"]


def test_group_counts_and_crashes(tmp_path, monkeypatch):
    """A group that dies, or ends badly for no stated reason, never counts as passed."""
    monkeypatch.setattr(suite, "FOLDER", tmp_path)
    group = suite.Group("solver", Path("python"), ())
    assert suite.read_counts(group, -11).broken == ("solver ended with status -11",)
    group.xml.write_text(
        '<testsuites><testsuite tests="9" failures="1" errors="2" skipped="3"/>'
        "</testsuites>"
    )
    assert suite.read_counts(group, 1) == suite.Counts(3, 3, 3)
    group.xml.write_text('<testsuite tests="2" failures="0" errors="0" skipped="0"/>')
    assert suite.read_counts(group, 0) == suite.Counts(2)
    assert suite.read_counts(group, 3).broken == ("solver ended with status 3",)


def test_the_closing_line():
    counts = suite.Counts(7, 1, 2).plus(suite.Counts(3, 0, 0, ("addon crashed",)))
    assert suite.closing_line(counts, 12.34) == (
        "10 passed, 1 failed, 2 skipped in 12.3 s; addon crashed"
    )


# ----------------------------------------------------------------- a Blender to drive


@pytest.fixture
def module(monkeypatch):
    """build.py itself, imported."""
    monkeypatch.setattr(sys, "path", list(sys.path))
    spec = importlib.util.spec_from_file_location("build", ROOT / "build.py")
    found = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(found)
    return found


def test_the_named_blender_is_the_one(module, monkeypatch):
    monkeypatch.setenv("BLENDER", "no-such-blender")
    assert module.find_blender(sys.executable) == sys.executable


def test_the_environment_names_a_blender(module, monkeypatch):
    monkeypatch.setenv("BLENDER", sys.executable)
    assert module.find_blender() == sys.executable


def test_no_blender_says_how_to_name_one(module, monkeypatch):
    monkeypatch.setattr(module.shutil, "which", lambda name: None)
    with pytest.raises(Exception, match="--blender PATH"):
        module.find_blender()
    with pytest.raises(Exception, match="--blender lost is no program"):
        module.find_blender("lost")


def test_a_problem_ends_with_2_and_says_what_to_do(capsys, module, monkeypatch):
    def refuse(source):
        raise module.ProblemError(f"This checkout has no {source}.")

    monkeypatch.setattr(module, "require", refuse)
    assert module.main(["demo"]) == 2
    assert "This checkout has no addon/cli_demo.py." in capsys.readouterr().out


# ------------------------------------------------------------------------ the archive


def test_the_archive_has_the_shape_of_the_checkout():
    content = extension.entries()
    assert {"__init__.py", "blender_manifest.toml", "LICENSE"} <= set(content)
    folders = {name.split("/")[0] for name in content if "/" in name}
    assert folders <= {"addon", "solver"}
    assert "solver/__init__.py" in content
    assert not any("__pycache__" in name or "cli_demo" in name for name in content)
    for name in content:
        folder = name.rpartition("/")[0]
        if name.endswith(".py") and folder:
            assert f"{folder}/__init__.py" in content, "relative imports need a package"


def test_the_version_has_one_source():
    manifest = extension.entries()["blender_manifest.toml"].decode()
    assert f'version = "{extension.version()}"' in manifest
    assert "{version}" not in manifest.split("\n", 1)[1]
