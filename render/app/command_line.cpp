// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/command_line.hpp"

#include <fmt/format.h>

#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "render/app/application.hpp"
#include "render/app/bench_verb.hpp"
#include "render/app/picture_verb.hpp"
#include "sim/basics/file.hpp"
#include "sim/program/options.hpp"
#include "sim/record/record_format.hpp"

namespace redress::app {

namespace {

constexpr int kLargestPicture = 8192;
constexpr std::int64_t kLongestMs = 86'400'000;

struct Values {
  ApplicationOptions application;
  PictureOptions picture;
  bool has_window = false;
  bool bare_window = false;
  bool card_folded = false;
  double scale = 0;
};

int run(Values& v) {
  if (v.has_window) return 0;
  if (v.bare_window) {
    return show_bare_window(v.application.shell.width, v.application.shell.height);
  }
  if (v.scale > 0) v.application.scale = v.scale;
  v.application.card_open = !v.card_folded;
  if (!v.application.script_path.empty()) {
    const Result<std::string> text = read_file(v.application.script_path);
    const Result<std::vector<ScriptStep>> script =
        text.ok() ? parse_script(text.value()) : Result<std::vector<ScriptStep>>{text.problems()};
    if (!script.ok()) {
      for (const Problem& problem : script.problems()) {
        fmt::print(stderr, "redress: {}: {} {}\n", v.application.script_path, problem.place,
                   problem.message);
      }
      return 1;
    }
    v.application.shell.script = script.value();
    if (v.application.shell.step_ms <= 0) v.application.shell.step_ms = 1000.0 / 60;
  }
  return run_application(v.application);
}

/// For developers: not in the help.
template <class Value>
CLI::Option* add_hidden(CLI::App& app, const char* name, Value& value) {
  return app.add_option(name, value)->group("");
}

}  // namespace

std::function<int()> add_window(CLI::App& app, const char* program, int& code) {
  const auto values = std::make_shared<Values>();  // the options write into it
  Values& v = *values;
  std::error_code ignored;
  const auto itself = std::filesystem::read_symlink("/proc/self/exe", ignored);
  v.application.program_folder =
      (ignored ? std::filesystem::path(program) : itself).parent_path().string();

  auto* picture = app.add_subcommand("picture", "what the examiner sees at a moment, as PNG");
  picture->add_option("case", v.picture.case_path, "CASE")->required();
  picture->add_option("--acts", v.picture.acts_path, "one act a line");
  picture->add_option("--at-ms", v.picture.at_ms, "the moment")
      ->required()
      ->check(CLI::Range(std::int64_t{0}, kLongestMs));
  picture->add_option("--out", v.picture.out_path, "FILE.png")->required();
  picture->add_option("--width", v.picture.width, "pixels")->check(CLI::Range(16, kLargestPicture));
  picture->add_option("--height", v.picture.height, "pixels")
      ->check(CLI::Range(16, kLargestPicture));
  picture->add_option("--seed", v.picture.seed, "chance of this examination; default: the case's")
      ->check(CLI::Range(std::uint64_t{0}, record::kLargestSeed));
  picture->add_option("--noise", v.picture.noise, "1 as in the case, 0 off")
      ->check(program::number_between(0, record::kMostNoise));
  picture->callback([&v, &code] { code = draw_picture(v.picture); });

  app.get_subcommand("bench")->callback([&code] { code = bench_with_pictures(); });
  app.add_option("--cases", v.application.cases_folder, "folder of cases for the window");
  ApplicationOptions::Sit& sit = v.application.sit;
  app.add_option("--sit", sit.sealed_path,
                 "begin as a workstation of this sealed circuit; its passphrase is typed there");
  app.add_option("--candidate", sit.candidate, "with --sit: number");
  app.add_option("--workstation", sit.workstation, "with --sit: name; default: the computer's");
  app.add_option("--kept", sit.kept_folder, "with --sit: folder where stations are kept");
  app.add_flag("--resume", sit.resume,
               "with --sit: the station that was interrupted goes on, with the time used");
  app.add_option("--debrief", v.application.debrief_path,
                 "show a station's debrief that an assessor released");
  app.add_flag("--has-window", v.has_window, "answers 0: this program has a window");
  ShellOptions& shell = v.application.shell;
  add_hidden(app, "--case", v.application.case_path);
  add_hidden(app, "--own-folder", v.application.own_folder);
  add_hidden(app, "--width", shell.width);
  add_hidden(app, "--height", shell.height);
  add_hidden(app, "--scale", v.scale)->check(program::number_between(1, 2, "--scale"));
  add_hidden(app, "--theme", v.application.theme)->check(CLI::IsMember({"light", "dim"}));
  add_hidden(app, "--screen", v.application.screen)
      ->check(CLI::IsMember({"parts", "first-run", "calibrate", "cases", "examine", "progress",
                             "train", "editor", "supply", "assessment", "compose", "results"}));
  add_hidden(app, "--seed", v.application.seed)
      ->check(CLI::Range(std::uint64_t{0}, record::kLargestSeed));
  add_hidden(app, "--screenshot", shell.screenshot);
  add_hidden(app, "--frames", shell.frames)->check(CLI::Range(0, 1'000'000));
  add_hidden(app, "--script", v.application.script_path);
  add_hidden(app, "--step-ms", shell.step_ms)->check(program::number_between(0, 1000, "--step-ms"));
  add_hidden(app, "--jitter", shell.jitter);
  add_hidden(app, "--parts-file", shell.parts_path);
  add_hidden(app, "--led-clock", shell.led_path);
  app.add_flag("--timings", shell.timings)->group("");
  app.add_flag("--card-folded", v.card_folded)->group("");
  app.add_flag("--bare-window", v.bare_window)->group("");
  return [values] { return run(*values); };
}

}  // namespace redress::app
