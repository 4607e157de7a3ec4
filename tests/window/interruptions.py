# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# What may come between, through the real window: interruptions.py PROGRAM ARTEFACTS WHICH
#   focus     the window is left in mid-cover
#   disk      the record cannot grow any more
#   kill      the program is killed in mid-examination
#   left      the mouse is in the left hand: the keys are mirrored
#   tab       everything that can be clicked is reached by Tab
import json
import os
import signal
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from desk import Desk, need, run  # noqa: E402
from examine import Keys, calc_eyes  # noqa: E402


def pass_time(desk, ms):
    until = desk.clock_ms() + ms
    desk.wait(lambda: desk.clock_ms() >= until, f"{ms} ms to pass")


def open_room(program, **more):
    desk = Desk(program, ["--seed", "4", "--screen", "examine"], **more)
    desk.wait_for("Say or ask")
    desk.wait(lambda: os.path.isdir(os.path.join(desk.own, "records")) and
              desk.clock_ms() >= 750, "the patient to be there")
    return desk


def is_covered(desk, eye):
    return desk.watch()[-1][eye + "_covered"] == "1"


def leave_and_check(desk):
    desk.process.terminate()
    need(desk.process.wait(timeout=60) == 0, "the program did not leave well: " + desk.said())
    record = desk.record()
    for verb in ("verify", "replay"):
        done = desk.redress(verb, record)
        need(done.returncode == 0, f"{verb}: {done.stdout}{done.stderr}")


def test_focus(desk):
    x, y = calc_eyes(desk, 1280)["right"]
    root = desk.find_root()
    desk.move(x, y)
    desk.press()
    desk.wait(lambda: is_covered(desk, "right"), "the right eye to be covered")
    pass_time(desk, 500)
    desk.leave_window(root)
    desk.wait_for_text("You left the window. The occluder stays where it is")
    desk.xdo("mousemove", 2, 2)
    desk.release()  # the button goes up where nobody hears it
    acts, clock = len(desk.acts()), desk.clock_ms()
    desk.xdo("mousemove", 10, 10)
    desk.xdo("mousemove", 30, 4)
    pass_time(desk, 1500)
    need(len(desk.acts()) == acts, f"the occluder was to stay: {desk.acts()[acts:]}")
    need(is_covered(desk, "right"), "the eye was to stay covered")
    need(desk.clock_ms() > clock, "the clock was to run on")
    # Back again: the hand takes it from where it was left, at the first press.
    desk.focus_window()
    desk.move(x, y)
    desk.press()
    desk.wait_for_text("mm from the cornea")
    desk.move(x, y - 120)
    desk.release()
    desk.wait(lambda: not is_covered(desk, "right"), "the occluder to go where it was let go")
    leave_and_check(desk)


def test_disk(desk):
    desk.key("a")
    x, y = calc_eyes(desk, 1280)["left"]
    for i in range(40):  # the hand's acts are what fills a record
        if desk.shows("It is safe up to"):
            break
        desk.move(x - 100 + 5 * i, y)
        desk.press()
        desk.xdo(*[w for k in range(12) for w in
                   ("mousemove", "--window", desk.window, round(x - 10 * k), round(y - 5 * k),
                    "sleep", "0.02")])
        desk.release()
    desk.wait_for_text("It is safe up to")
    need(desk.shows("The record cannot be written.") or desk.shows("Disk full."),
         "it was to be said plainly: " + desk.describe())
    # The examination goes on: the hand works, a finding is written, the card is handed in.
    desk.key("v")
    desk.wait_for_text("Translucent occluder")
    desk.click("line", lambda: desk.state["typing"])
    desk.type("6 m sc 6 XOP")
    desk.key("Return")
    desk.wait(lambda: desk.shows("Nothing is being written.") and desk.state["typing"],
              "the line to take the next finding")
    desk.click("Impression and plan", lambda: desk.part("impression"))
    desk.click("Finish and see the debrief")
    desk.wait_for_text("of 100")
    check_cut_short(desk)


def test_kill(desk):
    desk.key("a")
    pass_time(desk, 800)
    desk.key("space")
    pass_time(desk, 800)
    desk.process.send_signal(signal.SIGKILL)
    desk.process.wait()
    need(len(desk.acts()) >= 2, "what was done was to be there")
    check_cut_short(desk)


def check_cut_short(desk):
    """What is there is whole as far as it goes, and is not taken for a finished record."""
    record = desk.record()
    done = desk.redress("verify", record)
    said = done.stdout + done.stderr
    need(done.returncode == 1, "verify was to answer 1: " + said)
    need("was cut short" in said, "it was to be called cut short: " + said)
    print(said.strip())
    need(len(desk.lines()) > 3, "some of it was to be there")


def test_left(desk):
    desk.wait_for("Next")
    hands = Keys(desk)
    desk.tab_to("hand")
    desk.key("Right")  # the right hand is what is usual; the next is the left
    hands.choose("Next")
    desk.wait_for("Later")
    hands.choose("Later")
    desk.wait_for("Begin")
    hands.choose("Begin")
    desk.wait_for("Say or ask")
    desk.wait(lambda: os.path.isdir(os.path.join(desk.own, "records")) and
              desk.clock_ms() >= 750, "the patient to be there")

    def does(keys, kind, words, fits=lambda act: True):
        count = len(desk.acts(kind))
        desk.key(*keys)
        desk.wait(lambda: any(fits(a) for a in desk.acts(kind)[count:]), words)
        pass_time(desk, 700)

    does(["k"], "cover", "K to cover the eye on the left", lambda a: a["eye"] == "right")
    does(["o"], "uncover", "O to take it away upwards", lambda a: a["towards"] == "above")
    does(["semicolon"], "cover", "; to cover the eye on the right", lambda a: a["eye"] == "left")
    does(["space"], "cover", "Space to go to the other eye", lambda a: a["eye"] == "right")
    does(["l"], "uncover", "L to lower it", lambda a: a["towards"] == "below")
    desk.key("j", "7")
    desk.wait_for_text("Δ base in")
    before = int(next(t["text"] for t in desk.state["texts"] if "Δ base in" in t["text"]).split("Δ")[0])
    desk.key("i")
    desk.wait(lambda: any("Δ base in" in t["text"] and int(t["text"].split("Δ")[0]) > before
                          for t in desk.state["texts"] if t["text"][:1].isdigit()),
              "I to make the prism stronger")
    # What the right hand's keys were is something else now.
    count = len(desk.acts("cover"))
    desk.key("a", "d")
    pass_time(desk, 700)
    need(len(desk.acts("cover")) == count, "A and D were to cover nothing")
    leave_and_check(desk)


def check_reached(desk, words):
    """Tab goes over everything and comes back to where it began; Shift+Tab goes the other way."""
    desk.look()
    visited = []
    while True:
        desk.tab()
        now = desk.state["focused"]
        if visited and now == visited[0]:
            break
        need(now not in visited, f"{words}: Tab goes in a circle that leaves something out: {now}")
        visited.append(now)
        need(len(visited) < 200, f"{words}: Tab finds no end")
    missing = []
    for part in desk.state["parts"]:
        if part["kind"] == "drawing" or not part["available"] or part["rect"][2] == 0:
            continue
        group = part["id"].rsplit("/", 1)[0]
        # A choice of a row, "R/L" too, is reached with its row.
        reached = part["id"] in visited or any(
            part["id"].startswith(v + "/") or
            v.rsplit("/", 1)[0] == group and group.count("/") > 0 for v in visited)
        if not reached:
            missing.append(part["id"])
    need(not missing, f"{words}: Tab does not reach {missing}; it reaches {visited}")
    desk.tab("shift+Tab")
    need(desk.state["focused"] == visited[-1], f"Shift+Tab was to go back, {words}")
    print(f"{words}: {len(visited)} stops")


def test_tab(desk):
    hands = Keys(desk)
    desk.wait_for("Next")
    check_reached(desk, "first run")
    hands.choose("Next")
    desk.wait_for("Later")
    check_reached(desk, "calibration")
    hands.choose("Later")
    desk.wait_for("Begin")
    check_reached(desk, "cases")
    hands.choose("Begin")
    desk.wait_for("Say or ask")
    desk.wait(lambda: os.path.isdir(os.path.join(desk.own, "records")), "a record")
    check_reached(desk, "the room, the card beside it")
    desk.key("Escape")
    desk.wait(lambda: desk.state["focused"] == "", "Esc to give the keys back to the hands")
    desk.key("t")
    desk.wait_for("Letter line")
    check_reached(desk, "the target's drawer")
    desk.key("Escape")
    desk.wait(lambda: not desk.part("Letter line"), "Esc to close the drawer")
    desk.key("n")  # the card is open beside the patient: it is folded, then opened
    desk.wait(lambda: not desk.part("Impression and plan"), "N to fold the card")
    desk.key("n")
    desk.wait(lambda: desk.state["place"] == "card", "N to lead to the card")
    hands.choose("Impression and plan")
    desk.wait_for("impression")
    check_reached(desk, "the whole card")
    hands.choose("Finish and see the debrief")
    desk.wait_for_text("of 100")
    check_reached(desk, "debrief")


FROM_THE_FIRST_RUN = {"left": test_left, "tab": test_tab}
IN_THE_ROOM = {"focus": test_focus, "disk": test_disk, "kill": test_kill}
DISK_KIB = 24  # a header, some seconds, some movements of a hand


def test(program, artefacts, which):
    if which in FROM_THE_FIRST_RUN:
        desk = Desk(program, ["--seed", "4"])
        do = FROM_THE_FIRST_RUN[which]
    else:
        desk = open_room(program, **({"limit_kib": DISK_KIB} if which == "disk" else {}))
        do = IN_THE_ROOM[which]
    try:
        do(desk)
    except BaseException:
        desk.shoot(os.path.join(artefacts, f"{which}.png"))
        desk.keep(os.path.join(artefacts, which))
        raise
    finally:
        desk.close()


if __name__ == "__main__":
    run(test)
