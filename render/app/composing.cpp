// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/composing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <memory>
#include <utility>

#include "render/app/circuit_opening.hpp"
#include "render/app/results.hpp"
#include "sim/assessment/circuit_file.hpp"
#include "sim/assessment/rehearsal.hpp"
#include "sim/assessment/remedy.hpp"
#include "sim/assessment/report.hpp"
#include "sim/assessment/sealed_circuit.hpp"
#include "sim/basics/file.hpp"
#include "sim/basics/json_reader.hpp"
#include "sim/program/circuit_files.hpp"
#include "sim/record/record_format.hpp"

namespace redress::app {

namespace as = assessment;
namespace fs = std::filesystem;
namespace sa = screens::assessment;

namespace {

/// Simulated candidates that try each form while a circuit is composed: enough to tell half from
/// three quarters; a rehearsal sends more.
constexpr std::uint64_t kCandidates = 40;
constexpr std::size_t kMostUndo = 100;

/// What a station is for the engine; its name and place do not matter.
std::string key_of(const as::Circuit& circuit, std::size_t number) {
  as::Circuit one;
  one.stations = {circuit.stations[number]};
  one.stations.front().name.clear();
  one.stations.front().tasks.clear();
  return as::to_json(one).dump();
}

as::Circuit make_fresh() {
  as::Circuit circuit;
  circuit.title = "New circuit";
  as::Station station;
  station.name = "First station";
  station.case_path = "../exophoria.json";
  station.seeds = {1};
  station.tasks = {"Find and record any deviation at 6 m and near.",
                   "Measure what you find with prism.",
                   "Record an impression, a plan and how soon."};
  station.procedures = {as::Procedure::cover_uncover, as::Procedure::prism_cover};
  station.time_s = 480;
  for (const auto& entry : as::instrument_names()) station.instruments.push_back(entry.value);
  circuit.stations = {station};
  return circuit;
}

std::string to_sentence(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 32);
  return text + ".";
}

std::string write_minutes(std::int64_t seconds) {
  return fmt::format("{}:{:02}", seconds / 60, seconds % 60);
}

}  // namespace

Composing::Composing(ComposingOptions options) : options_(std::move(options)) {
  find_circuits();
  if (take_draft()) return;
  if (!model_.found.empty()) open(model_.found.front());
  if (model_.circuit.stations.empty()) begin_fresh();
}

void Composing::find_circuits() {
  std::size_t others = 0;
  for (const std::string& path : options_.found) {
    program::is_circuit_file(path) ? model_.found.push_back(path) : void(++others);
  }
  if (others == 0) return;
  model_.not_circuits = fmt::format(
      "{} beside them {} no circuit and {} not listed: a circuit has “redress-circuit” as its "
      "format.",
      others == 1 ? "One file" : fmt::format("{} files", others), others == 1 ? "is" : "are",
      others == 1 ? "is" : "are");
}

Composing::~Composing() {
  wipe(model_.passphrase);
  wipe(model_.again);
}

void Composing::open(const std::string& path) {
  Result<as::Circuit> circuit = program::load_circuit(path);
  if (!circuit) {
    const Problem& first = circuit.problems().front();
    model_.trouble = "“" + path +
                     "” cannot be opened: " + (first.place.empty() ? "" : first.place + " ") +
                     first.message + ". It was left as it is.";
    return;
  }
  push_before();
  model_.circuit = std::move(circuit).value();
  model_.path = path;
  model_.trouble.clear();
  model_.told.clear();
  model_.changed = false;
  model_.chosen = 0;
  folder_ = path;
  fill();
}

/// Under a name that no file has.
void Composing::begin_fresh() {
  push_before();
  model_.circuit = make_fresh();
  std::error_code error;
  model_.path = options_.own_folder + "/circuit.json";
  for (int n = 2; fs::exists(model_.path, error); ++n) {
    model_.path = fmt::format("{}/circuit-{}.json", options_.own_folder, n);
  }
  folder_ = model_.path;
  model_.told.clear();
  model_.changed = false;
  model_.chosen = 0;
  fill();
}

// ------------------------------------------------------------------------- what is not saved yet

std::string Composing::draft_path() const { return options_.own_folder + "/unsaved.draft"; }

bool Composing::take_draft() {
  const Result<std::string> text = read_file(draft_path());
  const auto value = text ? parse_json(text.value()) : Result<nlohmann::json>(text.problems());
  if (!value || !value.value().is_object()) return false;
  const auto word = [&](const char* key) {
    const auto found = value.value().find(key);
    return found != value.value().end() && found->is_string() ? found->get<std::string>() : "";
  };
  Result<as::Circuit> circuit = as::parse_circuit(value.value().value("circuit", nlohmann::json()));
  if (!circuit || word("path").empty()) return false;
  drafted_ = true;
  model_.circuit = std::move(circuit).value();
  model_.path = word("path");
  folder_ = word("folder");
  model_.changed = true;
  model_.told = "This was not saved when it was left. It is as it was then.";
  fill();
  return true;
}

void Composing::keep_draft() {
  drafted_ = true;
  std::error_code error;
  fs::create_directories(options_.own_folder, error);
  const nlohmann::json draft{
      {"path", model_.path}, {"folder", folder_}, {"circuit", as::to_json(model_.circuit)}};
  if (const auto problem = write_whole_file(draft_path(), draft.dump())) {
    model_.trouble = "“" + draft_path() + "” " + problem->message +
                     ". What is not saved is kept in memory alone.";
  }
}

void Composing::push_before() {
  if (model_.circuit.stations.empty()) return;  // nothing is there yet
  if (before_.size() >= kMostUndo) before_.erase(before_.begin());
  before_.push_back({model_.circuit, model_.path, folder_});
  drafted_ = false;
}

void Composing::change(as::Circuit circuit) {
  push_before();
  model_.circuit = std::move(circuit);
  model_.chosen = std::min(model_.chosen, model_.circuit.stations.size() - 1);
  model_.changed = true;
  model_.told.clear();
  keep_draft();
  fill();
}

void Composing::undo() {
  if (before_.empty()) return;
  model_.circuit = std::move(before_.back().circuit);
  model_.path = std::move(before_.back().path);
  folder_ = std::move(before_.back().folder);
  before_.pop_back();
  model_.chosen = std::min(model_.chosen, model_.circuit.stations.size() - 1);
  model_.changed = true;
  keep_draft();
  fill();
}

// ------------------------------------------------------------------------------ what the engine
// says

void Composing::fill() {
  model_.can_undo = !before_.empty();
  model_.rehearsal.outdated = rehearsed_ && as::to_json(model_.circuit).dump() != rehearsed_of_;
  model_.rehearsal.told.clear();
  model_.figures.assign(model_.circuit.stations.size(), {});
  model_.remarks.clear();
  std::vector<as::StationCheck> checks;
  std::vector<as::StationCondition> conditions;
  for (const std::size_t i : as::find_scored(model_.circuit)) {
    const auto found = tried_.find(key_of(model_.circuit, i));
    sa::StationFigures& figures = model_.figures[i];
    if (found == tried_.end()) {
      figures.computing = true;
      continue;
    }
    const Tried& tried = found->second;
    if (!tried.problems.empty()) {
      const Problem& first = tried.problems.front();
      model_.remarks.push_back(
          {fmt::format("Station {} has no patient: {}.", i + 1, first.message), "", "", true});
      continue;
    }
    double passing = 0;
    for (const as::FormCheck& form : tried.check.forms) {
      figures.reference_marks =
          std::min(figures.reference_marks.value_or(100), form.reference_marks);
      figures.reference_ms = std::max(figures.reference_ms.value_or(0), form.reference_ms);
      passing += form.share_passing.value_or(0);
    }
    figures.share_passing = passing / static_cast<double>(tried.check.forms.size());
    checks.push_back(tried.check);
    checks.back().station = i;
    conditions.push_back(tried.condition);
    conditions.back().station = i;
  }
  model_.rehearsal.ready = checks.size() == as::find_scored(model_.circuit).size();
  check_ = as::check_circuit(model_.circuit, std::move(checks), conditions);
  model_.blueprint = check_.blueprint;
  concerns_.assign(model_.remarks.size(), check_.concerns.size());
  for (std::size_t k = 0; k < check_.concerns.size(); ++k) {
    const as::Concern& concern = check_.concerns[k];
    const auto station = as::find_station(concern);
    sa::Remark remark;
    remark.what = (station ? fmt::format("Station {}: ", *station + 1) : std::string()) +
                  to_sentence(concern.what);
    remark.wrong = concern.wrong;
    if (const auto mended = as::apply_remedy(model_.circuit, check_, concern)) {
      const as::Station& now = mended->stations[*station];
      const as::Station& was = model_.circuit.stations[*station];
      remark.remedy = now.time_s != was.time_s   ? "Give " + write_minutes(now.time_s)
                      : now.safety != was.safety ? "Make it one"
                      : now.seeds != was.seeds   ? "Leave one out"
                                                 : "Allow it";
    } else {
      remark.proposal = to_sentence(concern.remedy);
    }
    model_.remarks.push_back(std::move(remark));
    concerns_.push_back(k);
  }
}

void Composing::try_next() {
  if (trying_.valid()) return;
  for (const std::size_t i : as::find_scored(model_.circuit)) {
    std::string key = key_of(model_.circuit, i);
    if (tried_.contains(key)) continue;
    trying_ = std::async(
        std::launch::async,
        [circuit = model_.circuit, i, key = std::move(key), folder = folder_]() -> Tried {
          Tried tried;
          tried.key = key;
          const auto forms = as::find_forms(circuit, i, program::patients_beside(folder));
          if (!forms) {
            tried.problems = forms.problems();
            return tried;
          }
          std::vector<as::PreparedForm> prepared;
          for (const as::Form& form : forms.value()) {
            prepared.push_back(as::prepare_form(circuit.stations[i], form, true));
          }
          tried.condition = as::find_condition(i, forms.value().front());
          tried.check = as::check_station(circuit, i, prepared, {kCandidates, {0, 1, 0}, 1});
          tried.prepared =
              std::make_shared<const std::vector<as::PreparedForm>>(std::move(prepared));
          return tried;
        });
    return;
  }
}

void Composing::take_tried(Tried tried) {
  std::string key = tried.key;
  tried_.insert_or_assign(std::move(key), std::move(tried));
  fill();
}

void Composing::advance() {
  const auto is_there = [this](const auto& future) {
    return future.valid() && (options_.is_played || future.wait_for(std::chrono::seconds{0}) ==
                                                        std::future_status::ready);
  };
  if (is_there(trying_)) take_tried(trying_.get());
  model_.rehearsal.done = rehearsing_.done();
  if (rehearsing_.is_running()) take_rehearsed(rehearsing_.take(options_.is_played));
  if (is_there(sealing_)) {
    const Result<std::string> sealed = sealing_.get();
    model_.busy = false;
    model_.trouble = sealed ? "" : to_sentence(sealed.problems().front().message);
    model_.told = sealed ? "“" + sealed.value() + "” is sealed." : "";
    model_.sealing = !sealed.ok();
  }
  try_next();
}

void Composing::wait() {
  for (try_next(); trying_.valid(); try_next()) take_tried(trying_.get());
}

void Composing::remedy(std::size_t remark) {
  const std::size_t k = concerns_.at(remark);
  if (k >= check_.concerns.size()) return;
  if (auto mended = as::apply_remedy(model_.circuit, check_, check_.concerns[k])) {
    change(std::move(*mended));
  }
}

// ------------------------------------------------------------------------------------- a rehearsal

void Composing::rehearse() {
  if (rehearsing_.is_running() || !model_.rehearsal.ready) return;
  std::vector<PreparedStation> stations(model_.circuit.stations.size());
  for (const std::size_t i : as::find_scored(model_.circuit)) {
    stations[i] = tried_.at(key_of(model_.circuit, i)).prepared;
  }
  rehearsed_wish_ = model_.rehearsal.wish;
  rehearsing_of_ = as::to_json(model_.circuit).dump();
  as::RehearsalPlan plan;
  plan.candidates = static_cast<std::uint64_t>(rehearsed_wish_.candidates);
  double parts = 0;
  for (const double part : rehearsed_wish_.parts) parts += part;
  for (std::size_t k = 0; k < plan.mix.size(); ++k) plan.mix[k] = rehearsed_wish_.parts[k] / parts;
  rehearsing_.begin(model_.circuit, std::move(stations), plan);
  model_.rehearsal.running = true;
  model_.rehearsal.told.clear();
}

void Composing::take_rehearsed(std::optional<Rehearsed> rehearsed) {
  model_.rehearsal.running = rehearsing_.is_running();
  if (!rehearsed) return;
  rehearsed_ = std::move(rehearsed);
  rehearsed_of_ = rehearsing_of_;
  model_.rehearsal.of = rehearsed_wish_;
  model_.rehearsal.figures = rehearsed_->figures;
  fill();
}

void Composing::write_rehearsal() {
  if (!rehearsed_) return;
  const fs::path path =
      fs::path(options_.own_folder) / (fs::path(model_.path).stem().string() + "-rehearsal.html");
  const as::ReportHead head{"", std::string(record::kEngineVersion), write_day(find_today()), true};
  std::error_code error;
  fs::create_directories(path.parent_path(), error);
  const auto problem = write_whole_file(
      path.string(), as::make_cohort_report(rehearsed_->cohort, rehearsed_->figures, head));
  model_.rehearsal.told =
      "“" + path.string() + "” " + (problem ? problem->message : std::string("was written")) + ".";
}

// ------------------------------------------------------------------------------------ save and
// seal

void Composing::save() {
  model_.told.clear();
  std::error_code error;
  const fs::path to = fs::path(model_.path).parent_path();
  const fs::path from = fs::path(folder_).parent_path();
  fs::create_directories(to, error);
  if (fs::weakly_canonical(to, error) != fs::weakly_canonical(from, error)) {
    // Cases are named from the circuit's folder.
    for (as::Station& station : model_.circuit.stations) {
      if (station.case_path.empty()) continue;
      station.case_path = fs::relative(from / station.case_path, to, error).generic_string();
    }
    folder_ = model_.path;
  }
  if (fs::exists(model_.path, error) && !program::is_circuit_file(model_.path)) {
    model_.trouble = "Not saved: “" + model_.path + "” is there already and is no circuit.";
    return;
  }
  // What is written is read again first: nothing is saved that could not be opened.
  const std::string text = as::to_json(model_.circuit).dump(1) + "\n";
  if (const auto again = as::read_circuit_text(text); !again) {
    const Problem& first = again.problems().front();
    model_.trouble = "Not saved: " + first.place + " " + first.message + ".";
    return;
  }
  if (const auto problem = write_whole_file(model_.path, text)) {
    model_.trouble = "“" + model_.path + "” " + problem->message + ".";
    return;
  }
  model_.trouble.clear();
  model_.changed = false;
  model_.told = "“" + model_.path + "” is saved.";
  if (drafted_) fs::remove(draft_path(), error);
}

void Composing::seal() {
  if (sealing_.valid()) return;
  auto secret = std::make_shared<as::LockedBytes>(as::lock_text(model_.passphrase));
  wipe(model_.passphrase);
  wipe(model_.again);
  model_.busy = true;
  model_.trouble.clear();
  const std::string name = fs::path(model_.path).stem().string();
  sealing_ = std::async(
      std::launch::async,
      [circuit = model_.circuit, folder = folder_, secret, to = options_.sealed_folder,
       name]() -> Result<std::string> {
        const auto forms = program::load_forms(circuit, program::patients_beside(folder));
        if (!forms) return forms.problems();
        const auto sealed = as::seal_circuit(circuit, forms.value(), secret->text());
        if (!sealed) return sealed.problems();
        std::error_code error;
        fs::create_directories(to, error);
        // A circuit that was sealed before may have been sat: it stays.
        std::string path = to + "/" + name + ".sealed";
        for (int n = 2; fs::exists(path, error); ++n) {
          path = fmt::format("{}/{}-{}.sealed", to, name, n);
        }
        if (const auto problem = write_whole_file(path, sealed.value())) return Problems{*problem};
        return path;
      });
}

ComposingOutcome Composing::draw(screens::Ui& ui, const screens::WindowSize& window) {
  ComposingOutcome outcome;
  if (ui.place() != screens::Place::study) ui.go_to(screens::Place::study);
  const screens::StudyLayout layout = screens::make_study_layout(window);
  sa::DeskBar bar;
  bar.leaves = true;
  bar.tab = sa::AssessmentTab::compose;
  const sa::DeskBarOutcome top = sa::draw_desk_bar(ui, layout, bar);
  outcome.leave = top.leave;
  if (top.tab) outcome.tab = static_cast<std::size_t>(*top.tab);
  const bool sealing = model_.sealing;
  const sa::ComposeOutcome did = sa::draw_compose(ui, layout, model_);
  outcome.acted = did.choose || did.changed || did.undo || did.remedy || did.save || did.seal ||
                  did.open || did.fresh || sealing != model_.sealing || did.rehearsal.begin ||
                  did.rehearsal.stop || did.rehearsal.write;
  if (did.choose) model_.chosen = *did.choose;
  if (did.changed) change(*did.changed);
  if (did.undo) undo();
  if (did.remedy) remedy(*did.remedy);
  if (did.save) save();
  if (did.seal) seal();
  if (did.open) open(model_.found[*did.open]);
  if (did.fresh) begin_fresh();
  if (did.rehearsal.begin) rehearse();
  if (did.rehearsal.stop) rehearsing_.stop();
  if (did.rehearsal.write) write_rehearsal();
  return outcome;
}

}  // namespace redress::app
