# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# A candidate sits a sealed circuit of two stations in the real window, is killed in the middle of
# the first, goes on where it was, and hands in: circuit.py PROGRAM ARTEFACTS
# What the window kept must be intact, count in the store, and bring marks.
import json
import os
import subprocess
import sys
import tempfile
import shutil
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from desk import Desk, need, run  # noqa: E402

PASSPHRASE = "larch under the north gate"
TASKS = ["Find and record any deviation at 6 m.", "Record an impression, a plan and how soon."]


def make_circuit(folder):
    library = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..", "scenarios")
    for name in ("exophoria", "right_esotropia"):
        shutil.copy(os.path.join(library, name + ".json"), folder)
    stations = [
        {"name": "Held straight", "case": "exophoria.json", "seeds": [7], "tasks": TASKS,
         "procedures": ["cover_uncover"], "reading_s": 4, "time_s": 240},
        {"name": "Turned in", "case": "right_esotropia.json", "seeds": [7], "tasks": TASKS,
         "procedures": ["cover_uncover"], "reading_s": 0, "time_s": 30},
    ]
    path = os.path.join(folder, "circuit.json")
    with open(path, "w") as file:
        json.dump({"format": "redress-circuit", "version": 1, "title": "Two patients",
                   "pass": {"standard": "fixed", "mark": 50, "stations": 1},
                   "stations": stations}, file)
    return path


def redress(program, *words, passphrase=True):
    return subprocess.run([program, *words], capture_output=True, text=True, timeout=300,
                          input=PASSPHRASE + "\n" if passphrase else None,
                          env={**os.environ, "DISPLAY": ""})


def open_desk(program, sealed, kept, *more):
    desk = Desk(program, ["--sit", sealed, "--kept", kept, "--workstation", "desk 3", *more])
    desk.click("passphrase", lambda: desk.state["typing"])
    desk.type(PASSPHRASE)
    desk.click("Open")
    return desk


def left_s(desk):
    """Of the clock in the strip, while the patient is there."""
    for text in desk.state["texts"]:
        words = text["text"].split(":")
        if len(words) == 2 and all(w.isdigit() for w in words) and text["region"] == "strip":
            return 60 * int(words[0]) + int(words[1])
    return None


def first_part(program, sealed, kept):
    desk = open_desk(program, sealed, kept)
    try:
        desk.click("Ready for the candidate")
        desk.click("candidate", lambda: desk.state["typing"])
        desk.type("0417")
        desk.click("Begin the practice minute")
        desk.wait_for_text("Practice minute")
        desk.click("Impression and plan")
        desk.click("Finish and hand in")
        desk.wait_for_text("Station 1 of 2")
        desk.click("Begin reading")
        desk.wait_for_text("Tasks at this station")
        need(not desk.part("Say or ask"), "the patient was to be absent in the reading time")
        desk.wait_for("Say or ask")
        desk.wait_for_text("Every act kept")
        title = desk.xdo("getwindowname", desk.window)
        need(title.strip() == "Station 1 of 2 – Redress", f"the window's title is “{title}”")
        desk.wait(lambda: left_s(desk) is not None and left_s(desk) <= 236, "some seconds to pass")
        desk.key("a")
        desk.wait_for_text("mm from the cornea")
        desk.key("a")
        desk.wait(lambda: left_s(desk) <= 231, "the cover to be over")
        # What the screen says is never more than a quarter of a second ahead of the disk.
        left = left_s(desk)
        desk.process.kill()
        desk.process.wait()
        return left
    except BaseException:
        desk.shoot(os.path.join(ARTEFACTS, "circuit_first.png"))
        raise
    finally:
        desk.close()


def second_part(program, sealed, kept, left):
    desk = open_desk(program, sealed, kept, "--resume")
    try:
        desk.wait_for_text("This desk resumes station 1 at")
        desk.click("Go on")
        desk.wait(lambda: left_s(desk) is not None, "the patient to be there again")
        need(left - 3 <= left_s(desk) <= left + 1,
             f"{left} s were left, and now it is {left_s(desk)}")
        desk.click("Impression and plan")
        desk.wait_for("impression")
        desk.click("Exophoria")
        desk.click("Finish and hand in")
        desk.click("Hand in")
        desk.wait_for_text("Station 1 of 2 was handed in.")
        desk.click("comment", lambda: desk.state["typing"])
        desk.type("The lights went out once")
        desk.click("Go on")
        desk.wait_for_text("Station 2 of 2")
        desk.click("Begin reading")
        desk.wait_for("Say or ask")
        desk.wait_for_text("Time is up. Your card was handed in as it stands.", 90)
        desk.click("Go on")
        desk.wait_for_text("All stations are done")
        for word in ("exophoria.json", "Held straight", "of 100", "Debrief"):
            need(not desk.shows(word), f"“{word}” was shown to a candidate")
    except BaseException:
        desk.shoot(os.path.join(ARTEFACTS, "circuit_second.png"))
        raise
    finally:
        desk.close()


def check_kept(program, folder, sealed, kept):
    files = [os.path.join(kept, f"0417-{n}.station") for n in (1, 2)]
    done = redress(program, "verify", *files, "--circuit", sealed, passphrase=False)
    need(done.returncode == 0 and done.stdout.count("is intact") == 2,
         "verify: " + done.stdout + done.stderr)
    opened = redress(program, "open", files[0], "--circuit", sealed, "--record",
                     os.path.join(folder, "first.redress"))
    need(opened.returncode == 0, "open: " + opened.stderr)
    for word in ("resumed", "comment", "The lights went out once", "began"):
        need(word in opened.stdout, f"“{word}” is not in the station: {opened.stdout}")
    replayed = redress(program, "replay", os.path.join(folder, "first.redress"), passphrase=False)
    need(replayed.returncode == 0, "replay: " + replayed.stdout + replayed.stderr)
    # Nothing of the patient lies in clear where a candidate could read it.
    for name in files:
        with open(name, "rb") as file:
            text = file.read()
        for word in (b"deviation", b"exophoria", b"Exophoria", b"story"):
            need(word not in text, f"{word} lies in clear in {name}")
    store = os.path.join(folder, "day.sqlite")
    handed = redress(program, "hand-in", *files, "--store", store, passphrase=False)
    need(handed.returncode == 0, "hand-in: " + handed.stderr)
    marks = redress(program, "results", "--store", store, "--circuit", sealed)
    need(marks.returncode == 0, "results: " + marks.stderr)
    figures = json.loads(marks.stdout)
    need(figures["candidates"] == 1 and len(figures["stations"]) == 2,
         "one candidate's two stations were to have marks: " + marks.stdout)
    need(figures["stations"][0]["share_finishing"] == 1,
         "the first station was handed in before its time was up")


def test(program, artefacts):
    global ARTEFACTS
    ARTEFACTS = artefacts
    began = time.monotonic()
    with tempfile.TemporaryDirectory(prefix="redress_circuit_") as folder:
        sealed = os.path.join(folder, "day.sealed")
        kept = os.path.join(folder, "kept")
        done = redress(program, "seal", make_circuit(folder), "--out", sealed)
        need(done.returncode == 0, "seal: " + done.stderr)
        left = first_part(program, sealed, kept)
        second_part(program, sealed, kept, left)
        check_kept(program, folder, sealed, kept)
    print(f"{time.monotonic() - began:.0f} s")


if __name__ == "__main__":
    run(test)
