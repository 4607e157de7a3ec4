# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# A new case, from an empty window to a checked and saved file, by mouse and keys: write_case.py
# PROGRAM ARTEFACTS. Seconds of this machine say nothing about a person, so acts are counted: how
# long somebody takes follows from them by the keystroke-level model (Card, Moran and Newell 1980,
# operators from memory): 0.28 s a key, 1.1 s to point, 0.2 s to press, 0.4 s from mouse to keys or
# back, 1.35 s to think before each entry. It must be below ten minutes.
import json
import os
import sys
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from desk import Desk, need, run  # noqa: E402

KEY_S, POINT_S, PRESS_S, HAND_S, THINK_S = 0.28, 1.1, 0.2, 0.4, 1.35
TEN_MINUTES_S = 600

CASE = {
    "Story": [
        ("/title", "Letters run together after ten minutes of reading"),
        ("/patient/name", "Wilma Aldous"),
        ("/patient/age_years", "24"),
        ("/patient/story", "When I read in the evening the letters run together, and I close one eye."),
        ("/patient/answers/onset", "It began in the spring, with my examinations."),
        ("/patient/answers/double_vision", "Side by side, only when I read."),
        ("/patient/answers/variation", "In the evening, and when I am tired."),
    ],
    "Deviation": [
        ("/deviation/distance_pd", "-1"),
        ("/deviation/near_pd", "-9"),
        ("/deviation/ac_a_pd_per_d", "2.2"),
    ],
    "Fusion": [("/fusion/near/base_out_pd", "5 / 9 / 3")],
    "Goals and notes": [
        ("/teaching/goal", "Measure at 40 cm as well, and the reserves"),
        ("/teaching/level", "2"),
        ("/teaching/different", "Straight at 6 m; the reserves at near do not meet the need."),
        ("/teaching/look_alikes/0/name", "short sight without glasses"),
        ("/teaching/look_alikes/0/sign", "the near deviation goes with the glasses on"),
    ],
}


class Hand:
    """Mouse and keys, counted."""

    def __init__(self, desk):
        self.desk = desk
        self.on_mouse = False
        self.points = self.keys = self.changes = self.thoughts = 0

    def seconds(self):
        return (self.keys * KEY_S + self.points * (POINT_S + PRESS_S) + self.changes * HAND_S +
                self.thoughts * THINK_S)

    def take(self, mouse):
        if self.on_mouse != mouse:
            self.changes += 1
        self.on_mouse = mouse

    def click(self, words, then=None):
        self.take(True)
        self.points += 1
        self.desk.click(words, then)

    def think(self):
        self.thoughts += 1

    def key(self, name):
        self.take(False)
        self.keys += 1
        self.desk.key(name)

    def type(self, text):
        self.take(False)
        self.keys += len(text)
        self.desk.type(text)

    def write(self, place, text):
        """Into the field of this place in the file; Enter settles it."""
        self.think()
        field = f"fields/{place}/{place}"
        self.click(field, lambda: self.desk.state["typing"])
        self.type(text)
        self.key("Return")
        self.desk.wait(lambda: not self.desk.state["typing"], f"{place} to be settled")


def become_educator(desk, hand):
    desk.wait_for("Next")
    hand.click("I teach")
    hand.click("Next")
    desk.wait_for("Later")
    hand.click("Later")
    desk.wait_for("New case")


def test(program, artefacts):
    desk = Desk(program)
    try:
        hand = Hand(desk)
        become_educator(desk, hand)
        began, hand = time.monotonic(), Hand(desk)
        hand.click("New case", lambda: desk.shows("Case editor") or desk.part("Undo"))
        for section, entries in CASE.items():
            hand.think()
            hand.click(section)
            for place, text in entries:
                hand.write(place, text)
        hand.click("Expected")
        hand.write("/expected/diagnosis", "convergence insufficiency")
        hand.think()
        hand.click("routine")
        # Checked: what the engine finds, what does not agree, how hard it is.
        desk.wait_for_text("These findings are called:")
        desk.wait(lambda: desk.shows("Nothing.") or desk.part("Go to Expected"),
                  "the editor to say whether all agrees")
        desk.wait_for_text("simulated of each")
        if desk.part("Take the computed"):
            hand.think()
            hand.click("Take the computed")
            desk.wait(lambda: not desk.part("Take the computed"), "nothing to disagree any more")
        hand.click("Save")
        desk.wait(lambda: any(t["text"].startswith("letters_run") for t in desk.state["texts"]),
                  "the file's name")
        path = os.path.join(desk.own, "cases",
                            "letters_run_together_after_ten_minutes_of_reading.json")
        need(os.path.exists(path), f"{path} was to be there")
        checked = desk.redress("validate", path)
        need(checked.returncode == 0, "validate: " + checked.stdout + checked.stderr)
        with open(path) as file:
            written = json.load(file)
        need(written["deviation"] == {"distance_pd": -1, "near_pd": -9, "ac_a_pd_per_d": 2.2},
             f"what was typed was to be there: {written['deviation']}")
        need(written["fusion"]["near"]["base_out_pd"] == [5, 9, 3], str(written["fusion"]))
        need(written["expected"]["urgency"] == "routine", str(written["expected"]))
        need("insufficiency" in written["expected"]["diagnosis"], str(written["expected"]))
        # And it stands in the list.
        hand.click("Cases")
        desk.wait_for_text("Wilma Aldous, 24")
        print(f"{hand.points} clicks, {hand.keys} keys, {hand.thoughts} entries thought about: "
              f"{hand.seconds():.0f} s of a person; {time.monotonic() - began:.0f} s here")
        need(hand.seconds() < TEN_MINUTES_S, f"{hand.seconds():.0f} s are more than ten minutes")
    except BaseException:
        desk.shoot(os.path.join(artefacts, "write_case.png"))
        desk.keep(os.path.join(artefacts, "write_case"))
        raise
    finally:
        desk.close()


if __name__ == "__main__":
    run(test)
