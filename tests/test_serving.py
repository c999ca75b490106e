"""Serving the course: ports, browsers, the settings JupyterLab is given, and one real start and stop."""

import os
import re
import signal
import socket
import subprocess
import sys
import urllib.error
import urllib.request
import webbrowser
from pathlib import Path

import pytest
from coldbench import serving
from coldbench.errors import CannotStart
from coldbench.serving import (
    FIRST_LESSON,
    choose_port,
    has_browser,
    is_free,
    lab_command,
    lab_environment,
    serve,
)
from served import PATIENCE, once_it_is_so


@pytest.fixture
def taken():
    """A port that another program listens on."""
    with socket.create_server(("127.0.0.1", 0)) as other:
        yield other.getsockname()[1]


def test_a_taken_port_is_told_from_a_free_one(taken):
    """A listening program takes its port; once it is gone the port is free."""
    assert not is_free(taken)
    with socket.create_server(("127.0.0.1", 0)) as other:
        port = other.getsockname()[1]
    assert is_free(port)


def test_next_free_port_is_taken_and_said(taken, monkeypatch, capsys):
    """Where the usual port is taken the next free one serves, and a line says so."""
    monkeypatch.setattr(serving, "FIRST_PORT", taken)
    assert choose_port(None) > taken
    assert f"Port {taken} is taken" in capsys.readouterr().out


def test_a_port_asked_for_must_be_free(taken):
    """A port that the student named is used or refused, never replaced."""
    with pytest.raises(CannotStart, match=f"Port {taken}"):
        choose_port(taken)


@pytest.mark.parametrize("port", [0, -1, 65536])
def test_numbers_that_are_no_ports(port):
    """A number that is no port is refused with the range."""
    with pytest.raises(CannotStart, match="65535"):
        choose_port(port)


def test_no_port_left(monkeypatch):
    """When all are taken the sentence names the way out."""
    monkeypatch.setattr(serving, "is_free", lambda port: False)
    with pytest.raises(CannotStart, match="--port"):
        choose_port(None)


def test_a_browser_needs_a_screen(monkeypatch):
    """On a machine without a screen there is no browser, whatever is installed."""
    monkeypatch.setattr(webbrowser, "get", lambda: object())
    monkeypatch.setattr(sys, "platform", "linux")
    assert not has_browser({})
    assert has_browser({"DISPLAY": ":0"})
    assert has_browser({"WAYLAND_DISPLAY": "wayland-0"})
    monkeypatch.setattr(sys, "platform", "darwin")
    assert has_browser({})


def test_a_screen_alone_is_no_browser(monkeypatch):
    """With a screen but no browser installed the address is printed."""

    def none():
        raise webbrowser.Error("could not locate runnable browser")

    monkeypatch.setattr(webbrowser, "get", none)
    assert not has_browser({"DISPLAY": ":0"})


def test_root_is_allowed_only_where_it_is_root(monkeypatch, tmp_path):
    """The option that lets JupyterLab run as root is given to root alone."""
    monkeypatch.setattr(os, "geteuid", lambda: 0, raising=False)
    assert "--allow-root" in lab_command(tmp_path, 8888, browser=True)
    monkeypatch.setattr(os, "geteuid", lambda: 1000, raising=False)
    assert "--allow-root" not in lab_command(tmp_path, 8888, browser=True)


def test_the_token_is_not_on_the_command_line(tmp_path):
    """Other users of the computer can read command lines; the token goes by the environment."""
    assert lab_environment(tmp_path, "secret")["JUPYTER_TOKEN"] == "secret"  # noqa: S105
    assert "secret" not in " ".join(lab_command(tmp_path, 8888, browser=True))


def test_jupyterlab_missing(monkeypatch, tmp_path):
    """Without JupyterLab the sentence names what installs it."""
    monkeypatch.setattr(serving.importlib.util, "find_spec", lambda name: None)
    with pytest.raises(CannotStart, match="JupyterLab is not installed"):
        serve(tmp_path)


@pytest.mark.skipif(os.name != "posix", reason="Ctrl-C is sent to a group of processes as POSIX has them.")
def test_served_until_ctrl_c(tmp_path):
    """JupyterLab serves the work folder to whoever has the token; Ctrl-C ends it without a traceback."""
    work = tmp_path / "wörk folder"
    lesson = work / FIRST_LESSON
    lesson.parent.mkdir(parents=True)
    lesson.write_text('{"cells": [], "metadata": {}, "nbformat": 4, "nbformat_minor": 5}')
    code = "import sys, pathlib, coldbench.serving as s; s.FIRST_PORT = int(sys.argv[2]);"
    code += "s.serve(pathlib.Path(sys.argv[1]), browser=False)"
    first_port = 20_000 + os.getpid() % 10_000  # where no other test starts a server
    with subprocess.Popen(
        [sys.executable, "-u", "-c", code, work, str(first_port)],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        start_new_session=True,
    ) as server:
        try:
            address = next(found[0] for line in server.stdout if (found := re.search(r"http://\S+", line)))
            assert status(address) == 200
            contents = address.replace(
                f"lab/tree/{FIRST_LESSON}", f"api/contents/{Path(FIRST_LESSON).parent}"
            )
            assert status(contents) == 200
            assert status(contents.split("?")[0]) == 403
        finally:
            os.killpg(server.pid, signal.SIGINT)
        rest = server.stdout.read()
    assert server.returncode == 0
    (settings,) = work.glob(".jupyter/**/page_config.json")
    assert "announcements" in settings.read_text()
    assert "nbgrader" in settings.read_text()
    assert "The course is closed" in rest
    assert "Traceback" not in rest


def status(address: str) -> int:
    """Ask until the server answers."""

    def answer() -> int:
        try:
            return urllib.request.urlopen(address, timeout=PATIENCE).status  # noqa: S310
        except urllib.error.HTTPError as refused:
            return refused.code

    return once_it_is_so(answer)
