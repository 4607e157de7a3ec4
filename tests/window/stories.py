# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# Whole examinations through the real window, by mouse and keys: stories.py PROGRAM ARTEFACTS WHICH
# From the list of patients to the debrief, each as somebody who knows how would do it, in their
# time. The record must verify and replay; what it scores and how long it took are held.
import json
import os
import sys
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from desk import Desk, need, run  # noqa: E402
from practitioner import Practitioner  # noqa: E402

SIX_MINUTES_MS, FOUR_MINUTES_MS = 360_000, 240_000


def exophoria(hands):
    """Wonders about reading glasses."""
    hands.begin("Idris Penhale")
    hands.read_story()
    hands.ask("Beginning", "Tired eyes")
    hands.say(1)
    hands.desk.lead(3200)
    for words, prime in (("6 m", ""), ("40 cm", "'")):
        if prime:
            hands.show_target("F5", 0.4)
        covers = hands.cover_and_uncover()
        print(covers.back_ms, covers.deviating(), covers.recovery())
        showed = hands.alternate(8).shown()
        print(showed)
        neutral, reversal = hands.measure(showed)
        hands.open_both()
        hands.put_prism_away()
        size = round(abs(neutral))
        hands.write(f"{words} sc {size} XOP{prime} {covers.recovery()} rec", f"exophoria {size}Δ")
        hands.write(f"{words} sc PCT {size} XOP{prime}", f"exophoria {size}Δ")
    hands.conclude("Exophoria", plan=["No treatment needed"], urgency="Routine")


STORIES = {
    "exophoria": (exophoria, ["exophoria"], 90, SIX_MINUTES_MS),
}


def test(program, artefacts, which):
    story, cases, least, most_ms = STORIES[which]
    began = time.monotonic()
    desk = Desk(program, ["--seed", "12"], led=True, cases=cases)
    try:
        hands = Practitioner(desk)
        story(hands)
        took_ms = hands.now()
        hands.finish()
        record = desk.record()
        desk.process.terminate()
        need(desk.process.wait(timeout=60) == 0, "the program did not leave well: " + desk.said())
        for verb in ("verify", "replay"):
            done = desk.redress(verb, record)
            need(done.returncode == 0, f"{verb}: {done.stdout}{done.stderr}")
        scored = desk.redress("score", record)
        need(scored.returncode == 0, "score: " + scored.stdout + scored.stderr)
        sheet = json.loads(scored.stdout)
        for item in sheet["items"]:
            print(f"  {item['item']} {item['marks']:5.1f} of {item['max']:5.1f}  {item['title']}: "
                  f"{item.get('why', '')}")
        print(f"{which}: {sheet['total']} marks after {took_ms / 1000:.0f} s of the patient's "
              f"time, {time.monotonic() - began:.0f} s of the machine's")
        need(not sheet["caps"], f"no cap was to apply: {sheet['caps']}")
        need(sheet["total"] >= least, f"{least} marks were to be reached, not {sheet['total']}")
        need(took_ms <= most_ms, f"{most_ms / 1000} s were to be enough, not {took_ms / 1000}")
    except BaseException:
        desk.shoot(os.path.join(artefacts, f"story_{which}.png"))
        desk.keep(os.path.join(artefacts, f"story_{which}"))
        raise
    finally:
        desk.close()


if __name__ == "__main__":
    run(test)
