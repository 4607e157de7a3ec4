// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/supplying.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "sim/cases/case_file.hpp"
#include "sim/cases/draft.hpp"
#include "sim/cases/setup.hpp"
#include "sim/program/generate.hpp"
#include "sim/truth/truth.hpp"

namespace redress::app {

namespace fs = std::filesystem;
using screens::SupplyOrder;
using screens::SupplyPart;
using screens::SupplyRow;

namespace {

std::string write_who(const std::string& name, double age_years) {
  return fmt::format("{}, {:.0f}", name, std::floor(age_years));
}

std::string write_pd(double pd) {
  const double shown = std::round(pd * 2) / 2;
  if (shown == 0.0) return "0Δ";
  return fmt::format("{}{:g}Δ", shown > 0 ? "+" : "−", std::abs(shown));
}

/// What was drawn of a person, and what the engine makes of it.
std::string write_drawn(const Case& c) {
  const truth::Truth found = truth::calc_truth(
      setup_of(c), {c.patient.screen_distance.value, c.patient.near_working_distance.value},
      {.gaze = false, .reserves = false, .near_point = false});
  return fmt::format("{} at 6 m, {} at 40 cm · AC/A {:.1f} · {} mm · {}",
                     write_pd(c.deviation.distance.value), write_pd(c.deviation.near.value),
                     c.deviation.ac_a_pd_per_d, c.patient.interpupillary_distance.value,
                     found.diagnosis);
}

constexpr std::string_view kStopped = "was stopped";

std::string write_count(std::size_t n) { return n == 1 ? "1 case" : fmt::format("{} cases", n); }

bool is_case_file(const fs::path& path) {
  return path.extension() == ".json" &&
         path.filename().string().find("schema") == std::string::npos;
}

}  // namespace

Supplying::Supplying(std::string own_folder, std::vector<screens::CaseRow> shown)
    : shown_(std::move(shown)) {
  model_.own_folder = std::move(own_folder);
  model_.diagnoses = program::generated_diagnoses();
}

Supplying::~Supplying() {
  if (wanted_) *wanted_ = false;
}

Supplying::Drawn Supplying::draw_cases(const std::string& diagnosis, double difficulty,
                                       std::uint64_t seed, int count,
                                       const std::shared_ptr<std::atomic<int>>& drawn,
                                       const std::shared_ptr<std::atomic<bool>>& wanted) {
  Drawn result;
  int number = 0;
  // In this thread alone: the window has the other processors.
  result.problems = program::generate_each(
      diagnosis, difficulty, seed, count, 1, [&](const nlohmann::json& one) -> Problems {
        const Result<Case> content = parse_case(one);
        if (!content.ok()) return content.problems();
        const Case& c = content.value();
        SupplyRow row;
        row.who = write_who(c.patient.name, c.patient.age_years);
        row.words = c.title;
        row.numbers = write_drawn(c);
        row.file = program::name_generated_file(diagnosis, seed, ++number);
        result.files.emplace_back(row.file, one.dump(2) + "\n");
        result.rows.push_back(std::move(row));
        *drawn = number;
        if (!wanted->load()) return {{"", std::string{kStopped}}};
        return {};
      });
  if (!wanted->load()) result.problems.clear();  // what was drawn by then is what was asked for
  return result;
}

void Supplying::begin_drawing() {
  model_.rows.clear();
  files_.clear();
  model_.working = true;
  model_.drawn = 0;
  drawn_ = std::make_shared<std::atomic<int>>(0);
  wanted_ = std::make_shared<std::atomic<bool>>(true);
  drawing_ =
      std::async(std::launch::async, draw_cases, std::string{model_.diagnoses[model_.diagnosis]},
                 model_.difficulty_percent / 100.0, static_cast<std::uint64_t>(model_.seed),
                 static_cast<int>(model_.count), drawn_, wanted_);
}

bool Supplying::advance() {
  if (!drawing_.valid()) return false;
  if (drawing_.wait_for(std::chrono::seconds{0}) != std::future_status::ready) {
    const auto so_far = static_cast<std::size_t>(drawn_->load());
    return std::exchange(model_.drawn, so_far) != so_far;
  }
  Drawn drawn = drawing_.get();
  model_.working = false;
  if (model_.part != SupplyPart::draw) return true;  // nobody looks at them any more
  model_.rows = std::move(drawn.rows);
  files_ = std::move(drawn.files);
  tell(drawn.problems);
  return true;
}

void Supplying::wait() {
  if (drawing_.valid()) drawing_.wait();
  advance();
}

void Supplying::tell(const Problems& problems) {
  constexpr std::size_t kTold = 8;
  model_.problems.clear();
  for (const Problem& p : problems) {
    if (model_.problems.size() == kTold) {
      model_.problems.push_back(fmt::format("And {} more.", problems.size() - kTold));
      break;
    }
    model_.problems.push_back(p.place + (p.place.empty() ? "" : " ") + p.message);
  }
}

void Supplying::look_into_pack() {
  model_.rows.clear();
  files_.clear();
  model_.title.clear();
  model_.note.clear();
  const Result<Pack> pack = program::load_pack(model_.path);
  if (!pack.ok()) return tell(pack.problems());
  model_.title = pack.value().title;
  model_.note = pack.value().note;
  for (const PackedCase& packed : pack.value().cases) {
    const Case& c = packed.content;
    model_.rows.push_back({true, write_who(c.patient.name, c.patient.age_years),
                           c.title + " – " + packed.name, "", packed.name});
    files_.emplace_back(packed.name, packed.text);
  }
}

void Supplying::put() {
  std::vector<program::NamedText> chosen;
  for (std::size_t i = 0; i < model_.rows.size(); ++i) {
    if (model_.rows[i].chosen) chosen.push_back(files_[i]);
  }
  const Problems problems = program::put_into_folder(chosen, model_.own_folder);
  tell(problems);
  if (!problems.empty()) return;
  model_.done = fmt::format("{} put into {}.", write_count(chosen.size()), model_.own_folder);
  model_.rows.clear();
  files_.clear();
}

void Supplying::hand_on() {
  std::vector<std::string> paths;
  for (const SupplyRow& row : model_.rows) {
    if (row.chosen) paths.push_back(row.file);
  }
  std::error_code error;
  if (fs::symlink_status(model_.path, error).type() != fs::file_type::not_found) {
    return tell({{model_.path, "is there already; nothing was written. Choose another name."}});
  }
  const Problems problems = program::write_pack_of(paths, model_.title, model_.note, model_.path);
  tell(problems);
  if (problems.empty()) {
    model_.done = fmt::format("{} written into {}.", write_count(paths.size()), model_.path);
  }
}

void Supplying::list_folder() {
  model_.folders.clear();
  model_.inside.clear();
  std::error_code error;
  std::size_t cases = 0;
  for (const fs::directory_entry& entry : fs::directory_iterator(model_.path, error)) {
    std::error_code ignored;
    const std::string name = entry.path().filename().string();
    if (entry.is_directory(ignored)) {
      if (!name.starts_with('.')) model_.folders.push_back(name);
    } else if (is_case_file(entry.path())) {
      ++cases;
    }
  }
  if (error) return tell({{model_.path, "cannot be read: " + error.message()}});
  std::sort(model_.folders.begin(), model_.folders.end());  // no two have one name
  model_.folders.insert(model_.folders.begin(), "..");
  model_.inside =
      fmt::format("{} of cases in it.", cases == 1 ? "1 file" : fmt::format("{} files", cases));
}

void Supplying::go_to(SupplyPart part) {
  if (wanted_) *wanted_ = false;
  model_.part = part;
  model_.rows.clear();
  files_.clear();
  model_.path.clear();
  model_.title.clear();
  model_.note.clear();
  if (part == SupplyPart::hand_on) {
    for (const screens::CaseRow& each : shown_) {
      model_.rows.push_back(
          {true, write_who(each.name, each.age_years), each.complaint, "", each.file});
    }
  }
  if (part == SupplyPart::folder) {
    model_.path = model_.own_folder;
    list_folder();
  }
}

SupplyingOutcome Supplying::draw(screens::Ui& ui, const screens::WindowSize& window) {
  SupplyingOutcome outcome;
  const screens::SupplyOutcome asked =
      screens::draw_supply(ui, screens::make_supply_layout(window), model_);
  if (asked.part || asked.order) {
    model_.done.clear();
    model_.problems.clear();
  }
  if (asked.part) go_to(*asked.part);
  if (!asked.order) return outcome;
  switch (*asked.order) {
    case SupplyOrder::leave: outcome.leave = true; break;
    case SupplyOrder::draw: begin_drawing(); break;
    case SupplyOrder::stop: *wanted_ = false; break;
    case SupplyOrder::look: look_into_pack(); break;
    case SupplyOrder::put: put(); break;
    case SupplyOrder::hand_on: hand_on(); break;
    case SupplyOrder::go_to_path: list_folder(); break;
    case SupplyOrder::usual: outcome.folder = ""; break;
    case SupplyOrder::open: {
      std::error_code error;
      if (fs::is_directory(model_.path, error)) {
        outcome.folder = fs::absolute(model_.path, error).string();
      } else {
        tell({{model_.path, "is no folder that is there; allowed: one that is"}});
      }
      break;
    }
  }
  return outcome;
}

}  // namespace redress::app
