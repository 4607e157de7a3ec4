# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# Somebody who knows how, at the window, with the mouse in one hand and the keys under the other:
# what is done in an examination, as verbs. Each takes the time that a hand takes: the operators of
# the keystroke-level model (Card, Moran and Newell, Communications of the ACM 23(7), 1980): a key
# 0.2 s (an average skilled typist), to point 1.1 s, to home on another device 0.4 s, to think of
# what comes next 1.35 s (figures from memory). A button 0.1 s each way (from memory as well), and
# what is read 0.24 s a word (250 words a minute, common practice, no source).
#
# What is judged is what the eyes showed while they could be seen: the record so far is played
# again and measured. The truth is not read.
import json
import os
import re
import statistics

from desk import need, to_pd
from examine import BAR, calc_eyes

KEY_MS, POINT_MS, HOME_MS, THINK_MS, BUTTON_MS, WORD_MS = 200, 1100, 400, 1350, 100, 240

UPRIGHT_BAR = [1, 2, 3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 25]  # for heights


class Practitioner:
    def __init__(self, desk, hold_ms=3000, open_ms=2700, dwell_ms=1250):
        self.desk = desk
        self.hold_ms, self.open_ms, self.dwell_ms = hold_ms, open_ms, dwell_ms
        self.right_hand = "mouse"
        self.covered = None
        self.eyes = {}
        self.began_ms = 0
        self.acts_ms = 0  # of that, what was neither history nor writing
        self.acts_from_ms = None

    # ------------------------------------------------------------------ hands

    def think(self):
        self.desk.lead(THINK_MS)

    def take(self, device):
        if self.right_hand != device:
            self.desk.lead(HOME_MS)
            self.right_hand = device

    def key(self, name):
        """One key, under either hand."""
        self.desk.key(name)
        self.desk.lead(KEY_MS)

    def type(self, words):
        self.take("keys")
        self.desk.type(words)
        self.desk.lead(KEY_MS * len(words))

    def click(self, words, then=None):
        self.take("mouse")
        self.desk.wait_for(words)
        self.desk.lead(POINT_MS)
        self.desk.click(words)
        self.desk.lead(2 * BUTTON_MS)
        if then is not None:
            self.desk.wait(then, f"what “{words}” does")

    def enter_number(self, stepper, number):
        self.click(stepper + "/value", lambda: self.desk.state["typing"])
        self.type(f"{number:g}")
        self.key("Return")

    # ------------------------------------------------------------------ from the list to the eyes

    def begin(self, patient):
        """The first run, then this patient."""
        for button in ("Next", "Later"):
            self.desk.wait_for(button)
            self.desk.click(button)
        self.desk.wait_for(patient)
        self.desk.click(patient)
        self.desk.wait(lambda: self.desk.shows("Chosen:"), "the case to be chosen")
        self.desk.click("Begin")
        # Where everything is large the shelf says less.
        self.desk.wait(lambda: self.desk.part("Say"), "the shelf")
        self.desk.wait(lambda: os.path.isdir(os.path.join(self.desk.own, "records")), "a record")
        self.desk.wait(lambda: not self.desk.shows("The patient is coming in."), "the patient")
        self.began_ms = self.desk.led_to_ms
        self.eyes = calc_eyes(self.desk, 1280)
        self.desk.move(*self.eyes["right"])

    def now(self):
        """The patient's time."""
        return self.desk.led_to_ms - self.began_ms

    def acts_begin(self):
        if self.acts_from_ms is None:
            self.acts_from_ms = self.now()

    def acts_end(self):
        if self.acts_from_ms is not None:
            self.acts_ms += self.now() - self.acts_from_ms
        self.acts_from_ms = None

    def read_story(self):
        self.key("h")
        story = self.desk.lines()[0]["case"]["patient"]["story"]
        self.desk.wait_for_text(story[:12])
        self.desk.lead(WORD_MS * len(story.split()))
        self.key("h")

    # ------------------------------------------------------------------ words

    def replies(self):
        return [line["reply"] for line in self.desk.lines() if "reply" in line]

    def ask(self, *labels):
        """Says or asks, one after the other, and reads what is answered."""
        self.open_words()
        for label in labels:
            before = len(self.replies())
            self.turn_to(label)
            self.click(label)
            for _ in range(80):
                if len(self.replies()) > before:
                    break
                self.desk.lead(250)
            answered = self.replies()
            need(len(answered) > before, f"“{label}” was to be answered")
            self.desk.lead(WORD_MS * len(answered[-1].get("text", "").split()))
        self.shut_words()

    def say(self, digit):
        """One of the eight that have a digit; all of them are said with the patient in view."""
        self.open_words()
        self.key(str(digit))
        self.shut_words()

    def open_words(self):
        self.think()
        self.key("x")
        self.desk.wait(self.hears_words, "the drawer to open")

    def hears_words(self):
        return self.desk.part("Single or double?") or self.desk.part("Look at the target")

    def turn_to(self, label):
        """Where everything is large a drawer shows one row, and arrows lead to the next."""
        for _ in range(6):
            if self.desk.part(label) or not self.desk.part("›"):
                return
            self.click("›")

    def shut_words(self):
        if self.desk.state["place"] == "drawer":
            self.key("Escape")
        self.desk.wait(lambda: self.desk.state["place"] != "drawer", "the drawer to close")

    # ------------------------------------------------------------------ the room

    def show_target(self, key, distance_m):
        self.acts_begin()
        self.think()
        self.key(key)
        self.desk.lead(2500)  # eyes and accommodation get there
        need(self.desk.acts("show_target")[-1]["distance_m"] == distance_m, f"{distance_m} m")

    def hold_head(self, words):
        self.think()
        self.acts_begin()
        self.click("My view", lambda: self.desk.part(words))
        self.click(words)
        self.key("Escape")
        self.desk.lead(2500)  # it turns, and the eyes come to rest

    def look_towards(self, pad_key):
        """The target at the side, as the number pad lies when one faces the patient."""
        self.key(pad_key)
        self.desk.lead(1500)

    def watch_open(self, ms, distance_m, apart_pd=5):
        """Touches nothing. Returns the share of the time that the eyes were so far apart."""
        began = self.now()
        self.desk.lead(ms)
        rows = self.desk.watch(began)
        wanted = 100 * 0.054 / distance_m  # of a child's eyes (usual, from memory)
        glances = [Covers.apart({e: Shown(rows, e, at, at + 100) for e in ("right", "left")})[0]
                   for at in range(0, len(rows) - 100, 500)]
        return sum(abs(g - wanted) >= apart_pd for g in glances) / len(glances)

    def spectacles(self, worn):
        self.think()
        self.key("c")
        self.click("On" if worn else "Off")
        self.key("Escape")

    def larger_letters(self, steps=1):
        for _ in range(steps):
            self.key("bracketright")

    # ------------------------------------------------------------------ covers

    def cover_by_mouse(self, eye):
        """The blade is held; let go, it is lowered."""
        self.take("mouse")
        self.desk.move(*self.eyes[eye])
        self.desk.lead(300)
        self.desk.press()
        self.desk.lead(self.hold_ms + 300)  # until it is there
        self.desk.release()
        self.desk.lead(self.open_ms + 300)

    def cover_by_key(self, eye):
        key = "a" if eye == "right" else "d"
        self.desk.key(key)
        self.desk.lead(self.hold_ms + 220)
        self.desk.key(key)
        self.desk.lead(self.open_ms + 220)

    def cover_and_uncover(self, times=2, by="mouse"):
        self.acts_begin()
        began = self.now()
        cover = self.cover_by_mouse if by == "mouse" else self.cover_by_key
        for eye in ("right", "left") * times:
            cover(eye)
        return Covers(self.desk.watch(began))

    def alternate(self, transfers):
        """Stays covered at the end. Returns what the eyes showed as they were freed."""
        began = self.now()
        if self.covered is None:
            self.desk.key("a")
            self.covered = "right"
            self.desk.lead(self.hold_ms)
        for _ in range(transfers):
            self.desk.key("space")
            self.covered = "left" if self.covered == "right" else "right"
            self.desk.lead(self.dwell_ms)
        return Freed(self.desk.watch(began))

    def open_both(self, ms=1500):
        self.desk.key("a" if self.covered == "right" else "d")
        self.covered = None
        self.desk.lead(ms)

    # ------------------------------------------------------------------ prism

    def measure(self, showed, upright=False, before=None):
        """By bar and alternating cover, from below the estimate to a clear reversal. Returns
        (neutral, reversal): signed, eso and right eye higher +. Stays covered, prism in hand."""
        sign = 1 if showed > 0 else -1
        bar = UPRIGHT_BAR if upright else BAR
        self.think()
        self.take_prism(before or "right", base_for(sign, upright, before or "right"))
        at = max([i for i, step in enumerate(bar) if step <= abs(showed) - 2.5], default=0)
        left = {}
        while True:
            self.step_to(bar[at])
            left[bar[at]] = sign * self.alternate(4).shown(upright)
            print(f"    {bar[at]}Δ: the eyes move {left[bar[at]]:+.1f}Δ", flush=True)
            lowest, highest = min(left), max(left)
            if left[lowest] < 0.6 and lowest > bar[0]:
                at = bar.index(lowest) - 1
            elif left[highest] > -1.0:  # a reversal that nobody doubts
                at = bar.index(highest) + 1
                need(at < len(bar), "no reversal up to the end of the bar")
            else:
                break
        still = [step for step in sorted(left) if abs(left[step]) <= 0.6]
        neutral = (still[0] + still[-1]) / 2 if still else min(left, key=lambda s: abs(left[s]))
        return sign * neutral, sign * max(left)

    def take_prism(self, eye, base):
        self.key("f")
        self.desk.lead(400)  # it is brought up
        self.desk.wait(self.find_prism, "a prism in the hand")
        if f", {eye} eye" not in self.find_prism():
            self.key("r")
        if f"Δ base {base}" not in self.find_prism():
            self.key({"in": "1", "out": "2", "up": "3", "down": "4"}[base])
        self.desk.wait(lambda: f"Δ base {base}, {eye} eye" in self.find_prism(),
                       f"base {base} before the {eye} eye")

    def put_prism_away(self):
        self.key("f")

    def find_prism(self):
        """“8Δ base in, right eye”, as the shelf says, or “8Δ in, R”; empty: none is held."""
        texts = [t["text"] for t in self.desk.state["texts"] if t["region"] == "shelf"]
        short = next((t for t in texts if re.fullmatch(r"[\d.]+Δ (in|out|up|down), [RL]", t)), "")
        if short:
            label, base, eye = short.replace(",", "").split()
            return f"{label} base {base}, {'right' if eye == 'R' else 'left'} eye"
        return next((t for t in texts if "Δ base" in t and t.endswith(" eye")), "")

    def step_to(self, wanted):
        for _ in range(2 * len(BAR)):
            now = float(self.find_prism().split("Δ")[0])
            if now == wanted:
                return
            self.key("e" if now < wanted else "q")
        need(False, f"the bar was to come to {wanted}Δ, not {self.find_prism()}")

    # ------------------------------------------------------------------ the card

    def write(self, line, read_as):
        """In shorthand; `read_as` is what the card must make of it."""
        self.acts_end()
        self.think()
        notes = len(self.desk.acts("note"))
        self.key("slash")
        self.desk.wait(lambda: self.desk.state["typing"], "the line to take letters")
        self.type(line)
        self.desk.wait_for_text(read_as)
        self.key("Return")
        self.desk.wait(lambda: len(self.desk.acts("note")) > notes, f"“{line}” to be noted")
        self.key("Escape")
        self.desk.wait(lambda: self.desk.state["place"] == "room", "Esc to lead to the room")

    def fill_in(self, choices=(), numbers=()):
        """In rows: choices are clicked, numbers typed, in the order of the card."""
        self.acts_end()
        self.think()
        notes = len(self.desk.acts("note"))
        for choice in choices:
            self.click(choice)
        for stepper, number in numbers:
            self.enter_number(stepper, number)
        self.key("Escape")  # back to the patient: it is written
        self.desk.wait(lambda: self.desk.state["place"] == "room", "Esc to lead to the room")
        self.desk.lead(BUTTON_MS)
        self.desk.wait(lambda: len(self.desk.acts("note")) > notes, f"{choices} to be noted")

    def conclude(self, letters, impression, side=None, plan=(), urgency="Routine"):
        """Letters that find the impression, then what is chosen."""
        self.acts_end()
        self.think()
        if not self.desk.part("Impression and plan"):
            self.key("n")  # the card is a page of its own
        self.click("Impression and plan", lambda: self.desk.part("impression"))
        self.desk.wait(lambda: self.desk.state["typing"], "the impression to take letters")
        self.type(letters)
        self.click(impression)
        if side is not None:
            self.click("side/" + side)
        for part in plan:
            self.click(part)
        self.click("how soon/" + urgency)
        self.desk.wait(lambda: f'"urgency": "{urgency.lower().replace(" ", "_")}"' in
                       json.dumps(self.desk.acts("note")), f"“{urgency}” to be noted")

    def finish(self):
        self.click("Finish and see the debrief")
        self.desk.wait_for_text("of 100")


# ---------------------------------------------------------------------- what the eyes showed

def base_for(sign, upright, eye):
    if not upright:
        return "out" if sign > 0 else "in"
    return "down" if (sign > 0) == (eye == "right") else "up"


class Shown:
    """Where an eye stood, degrees."""

    def __init__(self, rows, eye, begin, end):
        seen = [row for row in rows[max(begin, 0):max(end, 1)]
                if float(row[eye + "_lid_open_fraction"]) > 0.7]
        seen = seen or rows[max(begin, 0):max(end, 1)]
        self.eye = eye
        self.across = statistics.fmean(float(r[eye + "_horizontal_deg"]) for r in seen)
        self.up = statistics.fmean(float(r[eye + "_vertical_deg"]) for r in seen)

    def shows(self, later, upright):
        """The deviation that this eye showed as it went from here to there, Δ."""
        if upright:
            moved = to_pd(self.up) - to_pd(later.up)
        else:
            moved = to_pd(later.across) - to_pd(self.across)
        return moved if self.eye == "right" else -moved


def find_changes(rows):
    """(index, eye, whether it is covered from there on)."""
    changes = []
    for i in range(1, len(rows)):
        for eye in ("right", "left"):
            now, before = rows[i][eye + "_covered"], rows[i - 1][eye + "_covered"]
            if now != before:
                changes.append((i, eye, now == "1"))
    return changes


def fellow(eye):
    return "left" if eye == "right" else "right"


class Freed:
    """The movements of eyes that were freed while their fellows were covered."""

    def __init__(self, rows):
        self.moved = []
        for i, eye, covered in find_changes(rows):
            if covered or i + 1000 > len(rows):
                continue
            if rows[i + 400][fellow(eye) + "_covered"] == "1":
                taken_up = Shown(rows, eye, i + 750, i + 1000)
                self.moved.append((Shown(rows, eye, i, i + 60), taken_up))
        need(self.moved, "the cover was to be alternated")

    def shown(self, upright=False):
        return statistics.median(before.shows(after, upright) for before, after in self.moved)


class Covers:
    """What a cover-uncover test showed."""

    STILL_PD = 1.0  # of the eye that was open: less is unsteadiness

    def __init__(self, rows):
        self.moved = {"right": [], "left": []}  # of the open eye, when its fellow was covered
        self.back_ms = []                       # from uncovering to standing straight; None: never
        self.kept = {"right": 0, "left": 0}     # how often it went on fixing when bared again
        changes = find_changes(rows)
        ends = [change[0] for change in changes[2:]] + [len(rows), len(rows)]
        for (i, eye, covered), (k, same, still), end in zip(changes, changes[1:], ends):
            if not covered or same != eye or still or k + 2000 > len(rows):
                continue
            end -= 100
            other = fellow(eye)
            before = {e: Shown(rows, e, i - 400, i - 40) for e in ("right", "left")}
            taken = Shown(rows, other, i + 900, min(i + 2400, k))
            self.moved[other].append((before[other], taken))
            after = {e: Shown(rows, e, end - 300, end) for e in ("right", "left")}
            self.note_recovery(rows, eye, k, end, before, after)
            if abs(taken.shows(after[other], False)) < self.STILL_PD:
                self.kept[other] += 1

    @staticmethod
    def apart(places):
        return (to_pd(places["left"].across) - to_pd(places["right"].across),
                to_pd(places["right"].up) - to_pd(places["left"].up))

    def note_recovery(self, rows, eye, k, end, before, after):
        there, at_first = self.apart(before), self.apart(
            {e: Shown(rows, e, k, k + 60) for e in ("right", "left")})
        built = max(abs(a - b) for a, b in zip(at_first, there))
        left = max(abs(a - b) for a, b in zip(self.apart(after), there))
        if left > max(2.0, 0.4 * built):
            self.back_ms.append(None)
            return
        steady = 0
        for at in range(k, end - 40, 20):
            now = self.apart({e: Shown(rows, e, at, at + 40) for e in ("right", "left")})
            off = max(abs(a - b) for a, b in zip(now, self.apart(after)))
            steady = steady + 1 if off <= max(0.7, 0.05 * built) else 0
            if steady == 15:  # 300 ms
                break
        self.back_ms.append(at - 20 * steady - k)

    def shown(self, eye, upright=False):
        return statistics.median(a.shows(b, upright) for a, b in self.moved[eye])

    def deviating(self):
        """The eyes that took up fixation when their fellows were covered."""
        return [eye for eye in ("right", "left")
                if max(abs(self.shown(eye)), abs(self.shown(eye, True))) >= self.STILL_PD]

    def came_back(self):
        return all(ms is not None for ms in self.back_ms)

    def recovery(self):
        """In the words of the card (sim/findings/recovery.hpp has their times)."""
        if not self.came_back():
            return "no"
        middle = statistics.median(self.back_ms)
        return "rapid" if middle <= 1500 else "mod" if middle <= 3000 else "slow"
