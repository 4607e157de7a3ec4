// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/bench_verb.hpp"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <functional>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <regex>
#include <string>
#include <string_view>
#include <vector>

#include "render/app/bench_what_if.hpp"
#include "render/app/case_shelf.hpp"
#include "render/app/editing.hpp"
#include "render/app/process_figures.hpp"
#include "render/draw/picture_timing.hpp"
#include "render/face/people.hpp"
#include "render/gl/offscreen.hpp"
#include "render/window/imgui_link.hpp"
#include "render/window/window.hpp"
#include "sim/program/verbs.hpp"

namespace redress::app {

namespace {

using Json = nlohmann::ordered_json;

constexpr int kWidth = 1280;
constexpr int kHeight = 720;

double round_to(double value, double step) { return std::round(value / step) * step; }

Json row(const draw::FrameTimes& times) {
  constexpr double kStepMs = 0.01;
  return {{"frames_per_second", std::lround(1000 / std::max(times.median_ms, 1e-3))},
          {"median_ms", round_to(times.median_ms, kStepMs)},
          {"99_of_100_ms", round_to(times.most_ms, kStepMs)},
          {"worst_ms", round_to(times.worst_ms, kStepMs)},
          {"processor_ms", round_to(times.processor_ms, kStepMs)}};
}

std::string_view name_of(face::Quality quality) {
  switch (quality) {
    case face::Quality::kLow: return "low";
    case face::Quality::kMedium: return "medium";
    case face::Quality::kHigh: break;
  }
  return "high";
}

/// In a context without a window, at the quality that a window would settle for.
Json time_picture() {
  try {
    const gl::OffscreenContext context;
    const gl::RenderTarget target(kWidth, kHeight, 1);
    draw::PatientPicture picture(face::people().front().look);
    const std::vector<draw::Moments> moments = draw::make_usual_moments(kWidth);
    picture.measure_quality();
    (void)draw::time_moments(moments.front(), picture, target);
    const auto* const renderer = reinterpret_cast<const char*>(glGetString(GL_RENDERER));
    Json figures{{"renderer", renderer == nullptr ? "not told" : renderer},
                 {"width", kWidth},
                 {"height", kHeight},
                 {"quality", name_of(picture.quality())}};
    for (const draw::Moments& each : moments) {
      figures[each.what] = row(draw::time_moments(each, picture, target));
    }
    return figures;
  } catch (const gl::Error& error) {
    return {{"not_measured", error.what()}};
  }
}

/// What this program says when it is started with these arguments; empty: it did not start.
std::string run_myself(const std::string& arguments) {
  std::error_code ignored;
  const std::string me = std::filesystem::read_symlink("/proc/self/exe", ignored).string();
  if (me.empty() || me.find('\'') != std::string::npos) return "";
  const std::string command = "SDL_VIDEODRIVER=offscreen '" + me + "' " + arguments + " 2>&1";
  std::FILE* const pipe = popen(command.c_str(), "r");
  if (pipe == nullptr) return "";
  std::string said;
  std::array<char, 4096> buffer{};
  while (std::fgets(buffer.data(), buffer.size(), pipe) != nullptr) said += buffer.data();
  return pclose(pipe) == 0 ? said : "";
}

/// The one number that a pattern picks out of what was said.
std::optional<double> find_number(const std::string& said, const std::string& pattern) {
  std::smatch found;
  if (!std::regex_search(said, found, std::regex(pattern))) return std::nullopt;
  return std::strtod(found[1].str().c_str(), nullptr);
}

double find_median(std::vector<double> values) {
  std::sort(values.begin(), values.end());  // numbers alone: equal ones are one another
  return values[values.size() / 2];
}

/// A folder of its own for the windows that are started, gone with it.
struct OwnFolder {
  std::string path;
  OwnFolder() {
    std::string place = (std::filesystem::temp_directory_path() / "redress-bench-XXXXXX").string();
    if (mkdtemp(place.data()) != nullptr) path = place;
  }
  ~OwnFolder() {
    std::error_code ignored;
    if (!path.empty()) std::filesystem::remove_all(path, ignored);
  }
  OwnFolder(const OwnFolder&) = delete;
  OwnFolder& operator=(const OwnFolder&) = delete;
};

/// Windows without a screen, one after another: ours and the bare one in turns, so that both have
/// the same machine.
Json time_window() {
  constexpr int kTimes = 5;
  const OwnFolder own;
  const std::string size = fmt::format("--width {} --height {}", kWidth, kHeight);
  const std::string ours = "--own-folder '" + own.path + "' " + size;
  std::array<std::vector<double>, 2> clock;
  std::array<std::vector<double>, 2> processor;
  for (int i = 0; i < kTimes; ++i) {
    const std::array<std::string, 2> said{
        run_myself("--bare-window " + size),
        run_myself(ours + " --screen cases --frames 5 --timings")};
    for (std::size_t k = 0; k < said.size(); ++k) {
      const auto ms = find_number(said[k], R"((\d+) ms of clock)");
      const auto work = find_number(said[k], R"((\d+) ms of processor)");
      if (!ms || !work) return {{"not_measured", "no window can be opened without a screen"}};
      clock[k].push_back(*ms);
      processor[k].push_back(*work);
    }
  }
  const std::string room = run_myself(ours + " --screen examine --frames 240 --timings");
  Json figures{{"first_frame_ms", find_median(clock[1])},
               {"bare_first_frame_ms", find_median(clock[0])}};
  figures["ratio"] = round_to(find_median(clock[1]) / std::max(find_median(clock[0]), 1.0), 0.01);
  figures["processor_ratio"] =
      round_to(find_median(processor[1]) / std::max(find_median(processor[0]), 1.0), 0.01);
  if (const auto at_rest = find_number(room, R"(without a blink \d+: clock median ([\d.]+))")) {
    figures["examination_median_ms"] = *at_rest;
  }
  if (const auto memory = find_number(room, R"(memory (\d+) MiB)")) {
    figures["resident_mib"] = *memory;
  }
  return figures;
}

/// What a graphics card needs for a frame of the examination on a large screen, and for clearing it
/// and drawing the interface alone. A driver that computes pictures with the processor is not
/// asked: its own clock says nothing, and what it can do stands in the other figures.
Json time_graphics_card(const Json& picture) {
  constexpr int kScreenWidth = 3840;
  constexpr int kScreenHeight = 2160;
  const std::string renderer = picture.value("renderer", "");
  for (const std::string_view software : {"llvmpipe", "softpipe", "SwiftShader"}) {
    if (renderer.find(software) != std::string::npos) {
      return {{"not_measured", "pictures are computed by the processor here: " + renderer}};
    }
  }
  const OwnFolder own;
  const std::string said = run_myself(fmt::format(
      "--own-folder '{}' --width {} --height {} --screen examine --frames 240 --timings", own.path,
      kScreenWidth, kScreenHeight));
  const auto frame = find_number(said, R"(graphics: median ([\d.]+))");
  const auto alone = find_number(said, R"(clearing and interface alone: median ([\d.]+))");
  if (!frame || !alone) return {{"not_measured", "no window can be opened without a screen"}};
  return {{"width", kScreenWidth},
          {"height", kScreenHeight},
          {"frame_ms", *frame},
          {"clearing_and_interface_ms", *alone},
          {"ratio", round_to(*frame / std::max(*alone, 1e-3), 0.01)}};
}

double time_ms(const std::function<void()>& work) {
  const auto began = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - began)
      .count();
}

/// What the editor computes anew of every case that ships: when it is opened, when a value is
/// changed that the muscles do not know, and when one of a muscle is. To the deviations, and to
/// all.
Json time_editor() {
  const CaseShelf shelf = read_case_shelf(find_cases_folder("", ""));
  struct Times {
    std::vector<double> first, all;
    std::string worst;
  };
  Times opened;
  Times value;
  Times muscle;
  const auto time_one = [](Editing& editing, const std::string& key, Times& times) {
    const double first = time_ms([&] { editing.wait_for_deviations(); });
    times.first.push_back(first);
    times.all.push_back(first + time_ms([&] { editing.wait(); }));
    if (times.all.back() >= *std::max_element(times.all.begin(), times.all.end())) {
      times.worst = key;
    }
  };
  for (const ShelfEntry& each : shelf.cases) {
    auto read = Editing::open(each.path, "", "");
    if (!read.ok()) continue;
    Editing& editing = *read.value();
    time_one(editing, each.key, opened);
    editing.edit().set("/deviation/ac_a_pd_per_d", 4.25, "AC/A");
    time_one(editing, each.key, value);
    editing.edit().set("/muscles/right/superior_rectus/strength", 0.9, "strength");
    if (editing.draft().content().ok()) time_one(editing, each.key, muscle);
  }
  if (opened.all.empty()) return {{"not_measured", "there are no cases"}};
  const auto largest = [](const std::vector<double>& all) {
    return round_to(*std::max_element(all.begin(), all.end()), 1);
  };
  const auto figures = [&](const Times& t) {
    return Json{{"deviations_median_ms", round_to(find_median(t.first), 1)},
                {"deviations_worst_ms", largest(t.first)},
                {"all_median_ms", round_to(find_median(t.all), 1)},
                {"all_worst_ms", largest(t.all)},
                {"worst", t.worst}};
  };
  return {{"cases", opened.all.size()},
          {"opened", figures(opened)},
          {"value_changed", figures(value)},
          {"muscle_changed", figures(muscle)}};
}

/// A folder of ten thousand: until the list is there, and for each key of a search in it.
Json time_case_list() {
  constexpr int kFiles = 10'000;
  const OwnFolder own;
  const CaseShelf some = read_case_shelf(find_cases_folder("", ""));
  if (own.path.empty() || some.cases.empty()) return {{"not_measured", "there are no cases"}};
  for (int i = 0; i < kFiles; ++i) {
    const ShelfEntry& from = some.cases[static_cast<std::size_t>(i) % some.cases.size()];
    std::error_code ignored;
    std::filesystem::copy_file(from.path, fmt::format("{}/{:05}.json", own.path, i), ignored);
  }
  CaseShelf shelf;
  std::vector<double> opened;
  for (int i = 0; i < 3; ++i) {
    opened.push_back(time_ms([&] { shelf = read_case_shelf(own.path); }));
  }
  screens::CasesModel model;
  opened.push_back(time_ms([&] { model.rows = make_case_rows(shelf, {}); }));
  const double rows = opened.back();
  opened.pop_back();
  model.search = "when i read";
  std::size_t found = 0;
  const double search = time_ms([&] {
    found = screens::find_shown(model).size();
    (void)screens::count_cases(model);
  });
  return {{"files", shelf.cases.size()},
          {"read_ms", round_to(find_median(opened), 1)},
          {"rows_ms", round_to(rows, 0.1)},
          {"search_ms", round_to(search, 0.1)},
          {"found", found}};
}

}  // namespace

int bench_with_pictures() {
  Json figures = Json::parse(program::bench_engine());
  figures["picture"] = time_picture();
  figures["window"] = time_window();
  figures["graphics_card"] = time_graphics_card(figures["picture"]);
  figures["case_editor"] = time_editor();
  figures["case_list"] = time_case_list();
  figures["what_if"] = time_what_if();
  fmt::print("{}\n", figures.dump(2));
  return 0;
}

int show_bare_window(int width, int height) {
  constexpr int kFrames = 5;
  try {
    window::WindowOptions options;
    options.title = "bare";
    options.width = width;
    options.height = height;
    options.wait_for_screen = false;
    window::Window window(options);
    window::ImguiLink link(&window);
    for (int i = 0; i < kFrames; ++i) {
      glClearColor(0.9F, 0.9F, 0.9F, 1);
      glClear(GL_COLOR_BUFFER_BIT);
      link.begin_frame(width, height, 0.016);
      ImGui::Begin("bare");
      ImGui::TextUnformatted("A few words");
      ImGui::Button("and a button");
      ImGui::End();
      link.end_frame_and_draw();
      window.show();
      glFinish();
      if (i > 0) continue;
      const ProcessFigures first = read_process_figures();
      fmt::print(stderr, "first frame after {:.0f} ms of clock, {:.0f} ms of processor\n",
                 first.since_start_ms, first.processor_ms);
    }
    fmt::print(stderr, "memory {:.0f} MiB now\n", read_process_figures().resident_mib);
    return 0;
  } catch (const std::exception& error) {
    fmt::print(stderr, "redress: {}\n", error.what());
    return 1;
  }
}

}  // namespace redress::app
