# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# A whole examination through the real window, in real time: examine.py PROGRAM ARTEFACTS mouse|keys
# By one hand alone: nothing of the keyboard with the mouse (but for the words of the card), nothing
# of the mouse with the keys. What is written down is what the eyes showed: after each step the
# record so far is played again and the movements are measured in it. The truth is not read.
import json
import os
import re
import sys
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from desk import Desk, need, run, to_pd  # noqa: E402

PATIENT = "Idris Penhale"
HOLD_MS = 2200   # of a cover and of the pause after it
DWELL_MS = 1100  # of a cover when alternating
BAR = [1, 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 25, 30, 35, 40, 45]  # common practice, no source

# Where the eyes are: "room rule" of the layout, from the two regions that bound the view.
CARD_WIDTH, ACROSS_MM, BESIDE_MM, HIGH_MM, EYE_LINE = 420, 120, 52, 50, 0.43


def calc_eyes(desk, window_width):
    region = {r["name"]: r["rect"] for r in desk.state["regions"]}
    top = region["strip"][1] + region["strip"][3]
    high = region["message"][1] - top
    wide = window_width - CARD_WIDTH
    mm = min(wide / ACROSS_MM, high / HIGH_MM)
    x, y = wide * (1 - BESIDE_MM / ACROSS_MM), top + EYE_LINE * high
    return {"right": (x - 31.5 * mm, y), "left": (x + 31.5 * mm, y)}  # he faces us


class Keys:
    """Everything by keys."""

    def __init__(self, desk):
        self.desk = desk

    def choose(self, words):
        self.desk.tab_to(words)
        self.desk.key("Return")

    def enter_room(self):
        pass

    def cover(self, eye):
        self.desk.key("a" if eye == "right" else "d")

    def uncover(self, eye):
        self.desk.key("a" if eye == "right" else "d")

    def transfer(self, _):
        self.desk.key("space")

    def say(self, label, digit=None):
        self.desk.key("x")
        self.desk.wait_for("Single or double?")
        if digit is not None:
            self.desk.key(digit)
            return
        self.choose(label)
        self.desk.key("Escape")
        self.desk.wait(lambda: not self.desk.part("Single or double?"), "the drawer to close")

    def take_prism(self):
        self.desk.key("f")
        self.desk.key("1")

    def put_prism_away(self):
        self.desk.key("f")

    def step_prism(self, stronger):
        self.desk.key("e" if stronger else "q")

    def near(self):
        self.desk.key("F5")

    def begin_writing(self):
        self.desk.key("slash")

    def end_writing(self):
        self.desk.key("Escape")
        self.desk.wait(lambda: self.desk.state["place"] == "room", "Esc to lead back to the room")

    def pick(self, group, option):
        self.desk.tab_to(group)
        self.desk.key("Right")


class Mouse:
    """Everything by the mouse; the card's words are typed."""

    def __init__(self, desk):
        self.desk = desk
        self.eyes = {}

    def choose(self, words):
        self.desk.click(words)

    def enter_room(self):
        self.eyes = calc_eyes(self.desk, 1280)

    def cover(self, eye):
        self.desk.move(*self.eyes[eye])
        self.desk.press()

    def uncover(self, _):
        self.desk.release()

    def transfer(self, eye):
        (x, y), (x0, y0) = self.eyes[eye], self.eyes["left" if eye == "right" else "right"]
        words = []
        for i in range(1, 13):
            words += ["mousemove", "--window", self.desk.window, round(x0 + (x - x0) * i / 12),
                      round(y0 + (y - y0) * i / 12), "sleep", "0.015"]
        self.desk.xdo(*words)

    def say(self, label, digit=None):
        self.open("Say or ask", "Single or double?")
        self.desk.click(label)
        self.shut("Say or ask", "Single or double?")

    def open(self, place, inside):
        if not self.desk.part(inside):
            self.desk.click(place, lambda: self.desk.part(inside))

    def shut(self, place, inside):
        if self.desk.part(inside):
            self.desk.click(place, lambda: not self.desk.part(inside))

    def take_prism(self):
        self.open("Other hand", "Take it up")
        self.desk.click("Take it up", lambda: self.desk.part("Put away"))
        self.desk.click("In")

    def put_prism_away(self):
        self.open("Other hand", "Put away")
        self.desk.click("Put away", lambda: self.desk.part("Take it up"))
        self.shut("Other hand", "Take it up")

    def step_prism(self, stronger):
        self.open("Other hand", "Stronger")
        self.desk.click("Stronger" if stronger else "Weaker")

    def near(self):
        self.open("Target", "Letter line")
        self.desk.click("40 cm")
        self.shut("Target", "Letter line")

    def begin_writing(self):
        self.desk.click("line", lambda: self.desk.state["typing"])

    def end_writing(self):
        pass

    def pick(self, group, option):
        self.desk.click(option)


class Examination:
    def __init__(self, desk, hands):
        self.desk = desk
        self.hands = hands

    def pass_time(self, ms):
        until = self.desk.clock_ms() + ms
        self.desk.wait(lambda: self.desk.clock_ms() >= until, f"{ms} ms to pass")

    def covers(self, rows):
        return (rows["right_covered"], rows["left_covered"])

    def cover_and_uncover(self, times):
        """Two covers of each eye; returns how soon it was single again, ms."""
        began = self.desk.clock_ms()
        for eye in ["right", "left"] * times:
            self.hands.cover(eye)
            self.pass_time(HOLD_MS)
            self.hands.uncover(eye)
            self.pass_time(HOLD_MS)
        regained = []
        rows = self.desk.watch()[began:]
        for before, row in zip(rows, rows[1:]):
            if "1" in self.covers(before) and self.covers(row) == ("0", "0"):
                start = int(row["t_ms"])
                single = next((int(r["t_ms"]) for r in rows[start - began:] if r["fused"] == "1"),
                              None)
                regained.append(None if single is None else single - start)
        need(len(regained) == 2 * times, f"{2 * times} uncovers were to be seen: {regained}")
        return regained

    def alternate(self, transfers):
        """Returns the mean movement of the eyes as they are freed, Δ, + outwards."""
        began = self.desk.clock_ms()
        eye = "right"
        self.hands.cover(eye)
        self.pass_time(DWELL_MS)
        for _ in range(transfers):
            eye = "left" if eye == "right" else "right"
            self.hands.transfer(eye)
            self.pass_time(DWELL_MS)
        moved = []
        rows = self.desk.watch()
        for eye_now, outwards in (("right", 1), ("left", -1)):
            angle, covered = eye_now + "_horizontal_deg", eye_now + "_covered"
            for i in range(began + 1, len(rows) - 900):
                if rows[i - 1][covered] == "1" and rows[i][covered] == "0":
                    moved.append(outwards * (to_pd(float(rows[i + 900][angle])) -
                                             to_pd(float(rows[i][angle]))))
        need(len(moved) >= transfers - 1, f"{transfers} transfers gave {len(moved)} movements")
        self.eye = eye
        return sum(moved) / len(moved)

    def stop_alternating(self):
        self.hands.uncover(self.eye)
        self.pass_time(500)

    def measure(self):
        """By bar and alternating cover. Returns (estimate without prism, neutral, reversal)."""
        without = self.alternate(6)
        self.stop_alternating()
        need(without < -1, f"an exodeviation shows as a movement inwards, not {without:.1f}Δ")
        self.hands.take_prism()
        now = self.desk.wait(self.shelf_step, "the shelf to say which prism")
        wanted = min(BAR, key=lambda step: abs(step + without))
        seen = {}
        while True:
            self.step_to(now, wanted)
            now = wanted
            seen[now] = self.alternate(3)
            self.stop_alternating()
            print(f"  {now}Δ base in: the eyes move {seen[now]:+.1f}Δ", flush=True)
            if seen[now] > 0.8 and len(seen) > 1:
                break
            need(now < 20, "no reversal up to 20Δ")
            wanted = BAR[BAR.index(now) + (1 if seen[now] <= 0.8 else -1)]
        neutral = min(seen, key=lambda step: abs(seen[step]))
        self.hands.put_prism_away()
        return without, neutral, now

    def step_to(self, now, wanted):
        while now != wanted:
            stronger = wanted > now
            now = BAR[BAR.index(now) + (1 if stronger else -1)]
            self.hands.step_prism(stronger)
            self.desk.wait_for_text(f"{now}Δ base in")

    def shelf_step(self):
        for text in self.desk.state["texts"]:
            found = re.match(r"(\d+)Δ base in", text["text"])
            if found and text["region"] == "shelf":
                return int(found.group(1))
        return None

    def write(self, line, size):
        self.hands.begin_writing()
        self.desk.wait(lambda: self.desk.state["typing"], "the line to take letters")
        notes = len(self.desk.acts("note"))
        self.desk.type(line)
        self.desk.wait_for_text(f"exophoria {size}Δ")  # it is read as it is typed
        self.desk.key("Return")
        self.desk.wait(lambda: len(self.desk.acts("note")) > notes, f"“{line}” to be noted")
        self.desk.wait(lambda: self.desk.state["typing"], "the line to take the next finding")
        self.hands.end_writing()

    def at_a_distance(self, words, prime):
        regained = self.cover_and_uncover(2)
        without, neutral, reversal = self.measure()
        rapid = all(r is not None and r <= 1500 for r in regained)
        print(f"{words}: moved {without:+.1f}Δ without a prism, neutral {neutral}Δ, reversed "
              f"{reversal}Δ base in, single again after {regained} ms", flush=True)
        self.write(f"{words} sc {neutral} XOP{prime} {'rapid' if rapid else 'slow'} rec", neutral)
        self.write(f"{words} sc PCT {neutral} XOP{prime}", neutral)


def begin(desk, hands):
    """From the first run to the patient."""
    desk.wait_for("Next")
    hands.choose("Next")
    desk.wait_for("Later")
    hands.choose("Later")
    desk.wait_for(PATIENT)
    hands.choose(PATIENT)
    desk.wait(lambda: desk.shows("Chosen:") or desk.part("leave"), "the case to be chosen")
    if not desk.part("leave"):
        hands.choose("Begin")
    desk.wait_for("Say or ask")
    desk.wait(lambda: os.path.isdir(os.path.join(desk.own, "records")), "a record")
    desk.wait(lambda: desk.clock_ms() >= 1000, "the patient to be there")
    hands.enter_room()


def finish(desk, hands):
    hands.choose("Impression and plan")
    desk.wait_for("impression")
    hands.choose("Exophoria")
    hands.choose("No treatment needed")
    hands.pick("how soon", "Routine")
    desk.wait(lambda: any(a.get("urgency") == "routine" for a in desk.acts("note")) or
              any("routine" in json.dumps(a) for a in desk.acts("note")), "“routine” to be noted")
    hands.choose("Finish and see the debrief")


def test(program, artefacts, by):
    began = time.monotonic()
    desk = Desk(program, ["--seed", "12"])
    try:
        hands = Keys(desk) if by == "keys" else Mouse(desk)
        begin(desk, hands)
        examination = Examination(desk, hands)
        hands.say("Look at the target", "1")
        hands.say("Beginning")
        hands.say("Seeing two")
        examination.pass_time(3200)
        examination.at_a_distance("6 m", "")
        hands.near()
        desk.wait(lambda: any(a["distance_m"] == 0.4 for a in desk.acts("show_target")), "40 cm")
        examination.pass_time(1500)
        examination.at_a_distance("40 cm", "'")
        if by == "keys":
            desk.key("slash")
            desk.wait(lambda: desk.state["place"] == "card", "/ to lead to the card")
        finish(desk, hands)
        desk.wait_for_text("of 100")
        record = desk.record()
        desk.process.terminate()
        need(desk.process.wait(timeout=60) == 0, "the program did not leave well: " + desk.said())
        verified = desk.redress("verify", record)
        need(verified.returncode == 0, "verify: " + verified.stdout + verified.stderr)
        replayed = desk.redress("replay", record)
        need(replayed.returncode == 0, "replay: " + replayed.stdout + replayed.stderr)
        scored = desk.redress("score", record)
        need(scored.returncode == 0, "score: " + scored.stdout + scored.stderr)
        check_score(json.loads(scored.stdout))
        print(f"{by}: {time.monotonic() - began:.0f} s")
    except BaseException:
        desk.shoot(os.path.join(artefacts, f"examine_{by}.png"))
        desk.keep(os.path.join(artefacts, f"examine_{by}"))
        raise
    finally:
        desk.close()


def check_score(sheet):
    items = {item["item"]: item for item in sheet["items"]}
    for name, item in items.items():
        print(f"  {name} {item['marks']:5.1f} of {item['max']:5.1f}  {item['title']}: "
              f"{item.get('why', '')}")
    print(f"  total {sheet['total']}")
    # The findings are there at both distances: class, direction and size.
    for name in ("D1", "D2", "D3"):
        need(items[name]["marks"] == items[name]["max"], f"{name}: {items[name]}")
    # What the hands did: covers first and long enough, dissociated, bracketed by prism.
    for name in ("B1", "B2", "C1", "C2", "C3", "G1", "G3"):
        need(items[name]["marks"] >= items[name]["max"] / 2, f"{name}: {items[name]}")
    need(not sheet["caps"], f"no cap was to apply: {sheet['caps']}")
    need(sheet["total"] >= 75, f"a total of 75 was to be reached, not {sheet['total']}")


if __name__ == "__main__":
    run(test)
