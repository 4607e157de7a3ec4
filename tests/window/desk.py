# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# A desk without a screen: a display that nobody sees (Xvfb), the real program on it, a hand on its
# mouse and its keys (xdotool). Parts are found by the words on them, in the lines that the program
# writes to --parts-file. Nothing waits a fixed time for the machine: each step waits for what it
# must bring about, so that a slow machine makes a test longer, not red. Where hands need time of
# their own, the test leads the program's clock (--led-clock): it stands while the machine works and
# goes on by what the hands take, so that the same acts come out at the same times on any machine.
import collections
import csv
import json
import math
import os
import re
import select
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
import time

PATIENCE_S = 60.0  # for one thing to happen, on the slowest machine


class Failed(Exception):
    pass


def need(condition, words):
    if not condition:
        raise Failed(words)


class Display:
    """An X server on a number that was free."""

    TRIES = 5  # servers of other tests come and go on the same numbers

    def __init__(self, width, height):
        why = []
        for _ in range(self.TRIES):
            with tempfile.TemporaryFile("w+") as errors:
                self.process, number = self.start(width, height, errors)
                self.name = ":" + number
                answer = self.ask() if number else "no number"
                if answer == "":
                    return
                code = self.process.poll()
                self.close()
                errors.seek(0)
                why.append(f"{self.name} ({code}): {answer} {errors.read()}")
            time.sleep(0.5)
        raise Failed("Xvfb gave no display: " + "; ".join(why))

    @staticmethod
    def start(width, height, errors):
        read, write = os.pipe()
        process = subprocess.Popen(
            # -r: a key that is down for long, because the machine is slow, is not a held key.
            ["Xvfb", "-displayfd", str(write), "-screen", "0", f"{width}x{height}x24",
             "-nolisten", "tcp", "-noreset", "-r"],
            pass_fds=[write], stdin=subprocess.DEVNULL, stdout=errors, stderr=errors)
        os.close(write)
        number = b""
        # To the end of the line: a server that finds nobody reading its second piece ends.
        while not number.endswith(b"\n") and select.select([read], [], [], PATIENCE_S)[0]:
            piece = os.read(read, 32)
            if not piece:
                break
            number += piece
        os.close(read)
        return process, number.decode().strip()

    def ask(self):
        """Empty: it answers."""
        asked = subprocess.run(["xdotool", "getdisplaygeometry"], capture_output=True, text=True,
                               env={**os.environ, "DISPLAY": self.name}, check=False,
                               timeout=PATIENCE_S)
        return "" if asked.returncode == 0 else asked.stderr or f"answer {asked.returncode}"

    def close(self):
        self.process.terminate()
        self.process.wait()


FEW_CASES = ("no_deviation", "exophoria", "right_esotropia", "microtropia")


class Teller(threading.Thread):
    """Reads what the program tells, through a pipe: also where its files may not grow."""

    def __init__(self, path):
        super().__init__(daemon=True)
        self.path = path
        self.lines = collections.deque()
        os.mkfifo(path)

    def run(self):
        with open(self.path, "rb") as pipe, open(self.path + ".kept", "wb") as kept:
            for line in pipe:
                kept.write(line)
                self.lines.append(line)


class Desk:
    """The program in its window, with an own folder that was empty."""

    def __init__(self, program, options=(), width=1280, height=720, own=None, limit_kib=None,
                 cases=FEW_CASES, led=False):
        self.program = program
        self.cases = cases
        self.folder = tempfile.mkdtemp(prefix="redress_desk_")
        self.own = own or os.path.join(self.folder, "own")
        os.makedirs(self.own, exist_ok=True)
        self.teller = Teller(os.path.join(self.folder, "parts.jsonl"))
        self.teller.start()
        self.display = Display(width + 40, height + 40)  # some of the root is left free
        environment = {k: v for k, v in os.environ.items()
                       if k not in ("WAYLAND_DISPLAY", "SDL_VIDEODRIVER")}
        environment.update(DISPLAY=self.display.name, LIBGL_ALWAYS_SOFTWARE="1",
                           SDL_VIDEODRIVER="x11", REDRESS_CASES=self.take_few_cases())
        self.environment = environment
        command = [program, "--own-folder", self.own, "--width", str(width), "--height",
                   str(height), "--parts-file", self.teller.path, *options]
        self.cut = set()  # texts that had no room
        self.clock = None
        self.led_to_ms = 0
        self.keys, self.buttons = 0, 0  # that the program was given
        if led:
            path = os.path.join(self.folder, "clock")
            os.mkfifo(path)
            self.clock = os.open(path, os.O_RDWR)  # both ends: nobody waits for the other
            command += ["--led-clock", path]
        self.errors = open(os.path.join(self.folder, "errors"), "w+")
        before = None
        if limit_kib is not None:
            def before():  # a file may not grow beyond this: what a full disk does
                import resource
                signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
                resource.setrlimit(resource.RLIMIT_FSIZE, (limit_kib * 1024, limit_kib * 1024))
        self.process = subprocess.Popen(command, env=environment, stdin=subprocess.DEVNULL,
                                        stdout=self.errors, stderr=self.errors, preexec_fn=before)
        self.state = None
        self.wait(lambda: self.state is not None, "the first frame")
        self.window = self.xdo("search", "--sync", "--onlyvisible", "--pid",
                               str(self.process.pid)).split()[0]
        self.focus_window()

    # ------------------------------------------------------------------ what stands there

    def take_few_cases(self):
        """A folder with a few cases of the library: all of them stand in the window at once."""
        shelf = os.path.join(self.folder, "cases")
        os.mkdir(shelf)
        library = os.path.join(os.path.dirname(__file__), "..", "..", "scenarios")
        for name in self.cases:
            shutil.copy(os.path.join(library, name + ".json"), shelf)
        return shelf

    def look(self):
        """Reads what the program told since the last look."""
        last = None
        while self.teller.lines:
            last = self.teller.lines.popleft()
        if last is not None:
            self.state = json.loads(last)
            self.cut |= {t["region"] + ": " + t["text"] for t in self.state["texts"]
                         if not t["fits"]}

    def wait(self, condition, words, seconds=PATIENCE_S):
        end = time.monotonic() + seconds
        while True:
            self.look()
            found = condition()
            if found:
                return found
            if self.process.poll() is not None:
                raise Failed(f"the program ended ({self.process.returncode}) while waiting for "
                             f"{words}\n{self.said()}")
            if time.monotonic() > end:
                raise Failed(f"waited in vain for {words}; on the screen: {self.describe()}")
            time.sleep(0.01)

    def wait_a_little(self, condition):
        """For what need not happen: a list may be at its end."""
        for _ in range(30):
            self.look()
            if condition():
                break
            time.sleep(0.05)
        time.sleep(0.05)

    def said(self):
        self.errors.flush()
        with open(self.errors.name) as file:
            return file.read()

    def describe(self):
        if self.state is None:
            return "nothing"
        return json.dumps({"focused": self.state["focused"], "place": self.state["place"],
                           "parts": [p["label"] for p in self.state["parts"]],
                           "texts": [t["text"] for t in self.state["texts"]]},
                          ensure_ascii=False)

    def part(self, words):
        """The part with this label or id; else the one whose label begins so."""
        if self.state is None:
            return None
        parts = self.state["parts"]
        for fits in (lambda p: p["label"] == words,
                     lambda p: p["id"] == words or p["id"].endswith("/" + words),
                     lambda p: p["label"].startswith(words)):
            for part in parts:
                if fits(part) and part["rect"][2] > 0:
                    return part
        return None

    def shows(self, words):
        return self.state is not None and any(words in t["text"] for t in self.state["texts"])

    def wait_for(self, words, seconds=PATIENCE_S):
        return self.wait(lambda: self.part(words), f"the part “{words}”", seconds)

    def wait_for_text(self, words, seconds=PATIENCE_S):
        return self.wait(lambda: self.shows(words), f"the text “{words}”", seconds)

    # ------------------------------------------------------------------ hands

    def xdo(self, *words):
        done = subprocess.run(["xdotool", *map(str, words)], env=self.environment,
                              capture_output=True, text=True, timeout=PATIENCE_S)
        need(done.returncode == 0, f"xdotool {' '.join(map(str, words))}: {done.stderr}")
        return done.stdout

    def focus_window(self):
        self.xdo("windowfocus", "--sync", self.window)

    def find_root(self):
        """The root of the display, which lies where the window does not."""
        self.xdo("mousemove", 2, 2)
        place = self.xdo("getmouselocation", "--shell")
        return re.search(r"WINDOW=(\d+)", place).group(1)

    def leave_window(self, root):
        """The keys go elsewhere: to the root. The pointer stays: a hand that holds something
        would follow it until the window hears that it was left."""
        self.xdo("windowfocus", root)

    def lead(self, ms):
        """The program's time goes on by so much, and stands again."""
        if self.clock is None:
            return
        os.write(self.clock, f"{round(ms)}\n".encode())
        self.led_to_ms += round(ms)
        self.wait(lambda: self.state["at_ms"] >= self.led_to_ms, f"{ms} ms to be over")

    def took(self, keys=0, buttons=0):
        """Waits, where the time is led, until what the hands did has had its turn."""
        self.keys += keys
        self.buttons += buttons
        if self.clock is not None:
            self.wait(lambda: self.state["keys"] >= self.keys and
                      self.state["buttons"] >= self.buttons, "keys and buttons to be taken")

    def key(self, *names):
        self.xdo("key", "--delay", "10" if self.clock else "30", *names)
        self.took(keys=len(names))

    def type(self, text):
        # It may begin with a minus.
        self.xdo("type", "--delay", "10" if self.clock else "25", "--", text)
        self.took(keys=len(text))

    def move(self, x, y):
        self.xdo("mousemove", "--window", self.window, round(x), round(y))

    def press(self):
        self.xdo("mousedown", 1)

    def release(self):
        self.xdo("mouseup", 1)
        self.took(buttons=1)

    def clipped(self, part):
        """What scrolls hides its words, or some of the line around it."""
        x, y, w, h = part["rect"]

        def inside(r):
            across = x <= r[0] + r[2] / 2 <= x + w
            return across and r[3] >= 10 and r[1] >= y - 2 and r[1] + r[3] <= y + h + 2
        words = [t["rect"] for t in self.state["texts"] if t["text"] == part["label"]]
        if words:
            return not any(inside(r) for r in words)
        lines = [o for o in self.state["outlines"] if o["rect"] == part["rect"]]
        return any(o["visible"][3] < 0.9 * h for o in lines)

    def click(self, words, then=None):
        """Clicks in the middle of a part; scrolls to it first. `then` is what must follow."""
        part = self.wait_for(words)
        for _ in range(40):
            region = next((r["rect"] for r in self.state["regions"]
                           if part["id"].startswith(r["name"] + "/")), None)
            x, y, w, h = part["rect"]
            covered = any(p["kind"] == "button" and p["id"] != part["id"]
                          and p["rect"][0] < x + w and x < p["rect"][0] + p["rect"][2]
                          and p["rect"][1] < y + h / 2 < p["rect"][1] + p["rect"][3]
                          for p in self.state["parts"])
            clipped = self.clipped(part)
            if region is None or (y + h / 2 < region[1] + region[3] and y >= region[1]
                                  and not covered and not clipped):
                break
            middle = region[1] + region[3] / 2
            self.move(x + w / 2, middle)
            below = y + h / 2 >= region[1] + region[3] or covered or clipped and y > middle
            self.xdo("click", 5 if below else 4)
            self.lead(100)
            self.wait_a_little(lambda: self.part(words)["rect"] != part["rect"])
            part = self.wait_for(words)
        x, y, w, h = part["rect"]
        self.move(x + w / 2, y + h / 2)
        self.xdo("click", 1)
        self.took(buttons=1)
        if then is not None:
            self.wait(then, f"what “{words}” does")

    def tab(self, key="Tab"):
        """One step of the keys' focus. A field is entered only when it takes letters."""
        before = self.state["focused"]
        self.key(key)

        def arrived():
            now = self.state["focused"]
            part = next((p for p in self.state["parts"] if p["id"] == now), None)
            field = part is not None and part["kind"] == "field"
            return now not in ("", before) and (not field or self.state["typing"])
        self.wait(arrived, f"{key} to move on from {before}")

    def tab_to(self, words):
        """Goes to a part by Tab alone. Words: the end of its id, or its label."""
        seen = []
        for _ in range(150):
            self.look()
            focused = self.state["focused"]
            part = next((p for p in self.state["parts"] if p["id"] == focused), None)
            if focused and (focused.endswith("/" + words)
                            or (part is not None and part["label"].startswith(words))):
                return
            seen.append(focused)
            self.tab()
        raise Failed(f"Tab does not reach “{words}”; it went over {seen}")

    # ------------------------------------------------------------------ the record

    def record(self):
        folder = os.path.join(self.own, "records")
        names = sorted(os.listdir(folder)) if os.path.isdir(folder) else []
        need(len(names) == 1, f"one record was to be there, not {names}")
        return os.path.join(folder, names[0])

    def lines(self):
        with open(self.record(), "rb") as file:
            return [json.loads(line) for line in file.read().split(b"\n")[:-1]]

    def acts(self, kind=None):
        found = [line for line in self.lines() if "act" in line]
        return [a for a in found if kind is None or a["act"] == kind]

    def redress(self, *words):
        return subprocess.run([self.program, *words], capture_output=True, text=True,
                              timeout=300, env={**os.environ, "DISPLAY": ""})

    def watch(self, since_ms=0):
        """What the eyes did so far, one row a millisecond: the record played again."""
        header, *rest = self.lines()
        acts = [{k: v for k, v in line.items() if k not in ("seq", "chain", "hash")}
                for line in rest if "act" in line]
        times = [line["at_ms"] for line in rest if "at_ms" in line]
        case = os.path.join(self.folder, "case.json")
        listed = os.path.join(self.folder, "acts.jsonl")
        trace = os.path.join(self.folder, "trace.csv")
        with open(case, "w") as file:
            json.dump(header["case"], file)
        with open(listed, "w") as file:
            file.writelines(json.dumps(act) + "\n" for act in acts)
        done = self.redress("simulate", case, "--acts", listed, "--seed", str(header["seed"]),
                            "--trace", trace, "--until-ms", str(max(times)))
        need(done.returncode == 0, "the record so far does not run: " + done.stderr)
        longest = 200  # of a row, bytes: what is long past is not read
        with open(trace) as file:
            head = next(line for line in file if not line.startswith("#")).strip().split(",")
            from_end = (max(times) + 2 - since_ms) * longest
            if from_end < os.path.getsize(trace):
                file.seek(os.path.getsize(trace) - from_end)
                file.readline()
            else:
                file.seek(0)
            rows = csv.DictReader((line for line in file if line[0].isdigit()), fieldnames=head)
            return [row for row in rows if int(row["t_ms"]) >= since_ms]

    def clock_ms(self):
        """The latest time in the record: its states come every quarter of a second."""
        with open(self.record(), "rb") as file:
            file.seek(max(0, os.path.getsize(file.name) - 4096))
            times = re.findall(rb'"at_ms":(\d+)', file.read())
        return int(times[-1]) if times else 0

    # ------------------------------------------------------------------ the end

    def shoot(self, path):
        """A picture of the display, for whoever reads a failure."""
        subprocess.run(["import", "-window", "root", path], env=self.environment, check=False,
                       timeout=PATIENCE_S)

    def keep(self, folder):
        """Copies what the program told and wrote, for whoever reads a failure."""
        shutil.copytree(self.folder, folder, dirs_exist_ok=True,
                        ignore=shutil.ignore_patterns("parts.jsonl", "clock"))

    def close(self):
        if self.process.poll() is None:
            self.process.kill()
            self.process.wait()
        self.display.close()
        self.errors.close()
        if self.clock is not None:
            os.close(self.clock)
        shutil.rmtree(self.folder, ignore_errors=True)


def to_pd(degrees):
    return 100 * math.tan(math.radians(degrees))


def run(test):
    """Runs test(program, artefacts folder); says what went wrong in one place.

    A display, a hand and a program share a machine that others may be using too. So a test that
    fails is done once more from the start; that it was, and why, is said, and what the first try
    left is kept."""
    program, artefacts = sys.argv[1], sys.argv[2]
    for folder in (os.path.join(artefacts, "first_try"), artefacts):
        os.makedirs(folder, exist_ok=True)
        try:
            test(program, folder, *sys.argv[3:])
            return
        except (Failed, subprocess.TimeoutExpired) as failure:
            print(f"FAILED: {failure}", flush=True)
            if folder != artefacts:
                print("The test is done once more.", flush=True)
    sys.exit(1)
