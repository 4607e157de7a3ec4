// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/sitting.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "render/app/desk_words.hpp"
#include "render/app/event_turns.hpp"
#include "render/app/results.hpp"
#include "render/app/steering.hpp"
#include "render/screens/examine/scene.hpp"
#include "sim/assessment/resume_station.hpp"
#include "sim/basics/file.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/record/replay.hpp"

namespace redress::app {

namespace as = assessment;
namespace fs = std::filesystem;
using nlohmann::json;
using screens::examine::Instruments;

namespace {

constexpr Tick kPracticeMs = 60'000;

Instruments to_instruments(const as::Station& station) {
  const auto has = [&](as::Instrument i) {
    return std::find(station.instruments.begin(), station.instruments.end(), i) !=
           station.instruments.end();
  };
  Instruments there;
  there.opaque_occluder = has(as::Instrument::opaque_occluder);
  there.translucent_occluder = has(as::Instrument::translucent_occluder);
  there.horizontal_bar = has(as::Instrument::horizontal_bar);
  there.vertical_bar = has(as::Instrument::vertical_bar);
  there.loose_prisms = has(as::Instrument::loose_prisms);
  there.trial_lenses = has(as::Instrument::trial_lenses);
  there.spectacles = has(as::Instrument::spectacles);
  there.penlight = has(as::Instrument::penlight);
  there.ruler = has(as::Instrument::ruler);
  return there;
}

ShelvedCase to_shelved(const as::Form& form) {
  ShelvedCase shelved;
  shelved.content = form.content;
  shelved.written = form.written;
  return shelved;
}

as::Form practice_form() {
  as::Form form;
  form.written = as::practice_case();
  form.content = parse_case(form.written).value();
  return form;
}

}  // namespace

Sitting::Sitting(SittingOptions options) : options_(std::move(options)) {
  opening_model_.path = options_.sealed_path;
  if (!options_.sealed_path.empty()) focus_ = "desk/passphrase";
  opening_model_.found = options_.found;
  opening_model_.debriefs = options_.debriefs;
  setup_model_.workstation = options_.workstation;
  setup_model_.folder = options_.kept_folder;
  candidate_model_.candidate = options_.candidate;
  candidate_model_.eye_distance_cm = options_.eye_distance_cm;
}

Sitting::~Sitting() {
  wipe(opening_model_.passphrase.typed);
  wipe(invigilator_model_.passphrase.typed);
  // The file has no last line then: the station can go on.
  if (file_ && step_ != Step::after) log("window_closed", json::object());
}

// ---------------------------------------------------------------------------------------- the day

void Sitting::take_circuit(as::OpenedCircuit opened) {
  circuit_.emplace(std::move(opened));
  setup_model_.circuit = circuit_->circuit.title;
  setup_model_.stations = describe_circuit();
  step_ = Step::setup;
  patient_ = screens::examine::make_appearance(practice_form().content);
  look_for_interrupted();
  if (options_.resume && setup_model_.interrupted.size() == 1) {
    const screens::assessment::Interrupted one = setup_model_.interrupted.front();
    (void)resume(one.candidate, one.station);
  } else if (options_.resume && setup_model_.interrupted.empty()) {
    setup_model_.trouble = "Nothing of this circuit was interrupted here.";
  }
}

void Sitting::look_for_interrupted() {
  setup_model_.interrupted.clear();
  std::error_code error;
  for (const fs::directory_entry& entry : fs::directory_iterator(setup_model_.folder, error)) {
    if (entry.path().extension() != ".station") continue;
    const Result<std::string> text = read_file(entry.path().string());
    if (!text) continue;
    const as::StationVerdict verdict = as::verify_station(text.value(), circuit_->keys.id());
    const as::StationIdentity& who = verdict.identity;
    if (verdict.standing != as::Standing::cut_short ||
        entry.path().filename() != as::make_station_name(who.candidate, who.station)) {
      continue;
    }
    setup_model_.interrupted.push_back({who.candidate, who.station,
                                        screens::examine::format_time_left(verdict.used_ms),
                                        who.workstation});
  }
  std::sort(setup_model_.interrupted.begin(), setup_model_.interrupted.end(),
            // One file a candidate and station: no two are equal.
            [](const auto& a, const auto& b) {
              return std::pair{a.candidate, a.station} < std::pair{b.candidate, b.station};
            });
}

bool Sitting::begin_candidate() {
  candidate_ = candidate_model_.candidate;
  candidate_model_.trouble.clear();
  if (!as::is_candidate_number(candidate_)) {
    candidate_model_.trouble = "A number has letters, digits, dots and dashes: 1 to 20 of them.";
    return false;
  }
  for (const auto& each : setup_model_.interrupted) {
    if (each.candidate != candidate_) continue;
    candidate_model_.trouble = "This candidate was interrupted. Call the invigilator.";
    return false;
  }
  terms_ = {screens::assessment::kExtraPercents[setup_model_.extra], 0};
  key_.emplace(as::make_workstation_key(circuit_->keys, setup_model_.workstation));
  return true;
}

void Sitting::begin_practice() {
  RoomOptions options = make_room_options();
  StationTerms& terms = *options.station;
  terms.words = {"Practice minute", "Practice", "Candidate " + candidate_, "Nothing is kept"};
  terms.time_ms = kPracticeMs * (100 + terms_.extra_percent) / 100;
  terms.tasks = {"Cover and uncover each eye; slide the occluder across.",
                 "Hold a prism before an eye and step it.",
                 "Say something, change the target, write a finding on the card."};
  room_ = std::make_unique<Room>(to_shelved(practice_form()), options);
  step_ = Step::practice;
}

void Sitting::go_to_next(std::size_t from) {
  room_.reset();
  notice_.clear();
  const auto& stations = circuit_->circuit.stations;
  for (number_ = from; number_ < stations.size(); ++number_) {
    if (stations[number_].rest) {
      begin_rest();
      return;
    }
    const std::string path = setup_model_.folder + "/" + as::make_station_name(candidate_, number_);
    // Handed in before an interruption. What cannot be read is in the way, and is told then.
    const Result<std::string> kept = read_file(path);
    if (kept && as::verify_station(kept.value(), circuit_->keys.id()).intact()) continue;
    before_model_.title = where();
    before_model_.words = describe_station();
    before_model_.button = "Begin reading";
    step_ = Step::before;
    return;
  }
  number_ = stations.size() - 1;
  step_ = Step::done;
}

const as::Form& Sitting::form() const {
  const auto& forms = circuit_->forms[number_];
  return forms[as::find_form(as::to_text(circuit_->keys.id()), candidate_, number_, forms.size())];
}

void Sitting::begin_reading() {
  std::error_code error;
  fs::create_directories(setup_model_.folder, error);
  const std::string path = setup_model_.folder + "/" + as::make_station_name(candidate_, number_);
  file_ = std::make_shared<StationFile>(
      path, as::StationIdentity{circuit_->keys.id(), key_->workstation, candidate_, number_}, *key_,
      record::make_header(form().written, form().seed, 1.0));
  if (const auto problem = file_->problem()) {
    before_model_.words = "Call the invigilator: “" + path + "” " + problem->message + ".";
    file_.reset();
    return;
  }
  file_->tell_clocks(clocks_);
  so_far_ = {};
  ended_at_ = 0;
  happened_.clear();
  terms_.credit_ms = 0;
  log("began", {{"extra_percent", terms_.extra_percent},
                {"time_ms", as::calc_station_ms(station(), terms_)},
                {"text_scale", window_.scale},
                {"eyes_to_screen_cm", candidate_model_.eye_distance_cm},
                {"screen_pixels_per_mm", screen_pixels_per_mm_.value_or(0.0)}});
  for (auto& [what, detail] : untold_) log(what, std::move(detail));
  untold_.clear();
  used_ms_ = 0;
  told_ms_ = 0;
  patient_ = screens::examine::make_appearance(form().content);
  step_ = Step::reading;
}

void Sitting::begin_station() {
  if (so_far_.states.empty()) log("reading_over", json::object());
  RoomOptions options = make_room_options();
  StationTerms& terms = *options.station;
  terms.words = {where(), fmt::format("{} of {}", number_ + 1, circuit_->circuit.stations.size()),
                 "Candidate " + candidate_, "Every act kept"};
  terms.time_ms = as::calc_station_ms(station(), terms_);
  terms.tasks = station().tasks;
  terms.instruments = to_instruments(station());
  terms.file = file_;
  terms.so_far = std::move(so_far_);
  so_far_ = {};
  options.seed = form().seed;
  disk_trouble_ = false;
  room_ = std::make_unique<Room>(to_shelved(form()), options);
  step_ = Step::station;
}

void Sitting::begin_rest() {
  used_ms_ = 0;
  step_ = Step::rest;
}

bool Sitting::resume(const std::string& candidate, std::size_t number) {
  const std::string path = setup_model_.folder + "/" + as::make_station_name(candidate, number);
  const auto refuse = [&](const std::string& why) {
    setup_model_.trouble = "“" + path + "” " + why + ". It was left as it is.";
    return false;
  };
  const Result<std::string> text = read_file(path);
  if (!text) return refuse(text.problems().front().message);
  auto from = as::read_resumable(
      text.value(), *circuit_, {circuit_->keys.id(), setup_model_.workstation, candidate, number});
  if (!from) return refuse(from.problems().front().message);
  const as::StationVerdict& verdict = from.value().opened.verdict;
  candidate_ = candidate;
  number_ = number;
  candidate_model_.candidate = candidate;
  const as::StationProgress progress = as::read_progress(verdict.events);
  terms_ = as::read_terms(verdict.events);
  key_.emplace(as::make_workstation_key(circuit_->keys, setup_model_.workstation));
  file_ = std::make_shared<StationFile>(
      path, from.value(), record::make_header(form().written, form().seed, 1.0), *key_);
  if (const auto problem = file_->problem()) return refuse(problem->message);
  file_->tell_clocks(clocks_);
  so_far_ = {};
  if (from.value().cut) so_far_ = std::move(from.value().cut->record);
  patient_ = screens::examine::make_appearance(form().content);
  used_ms_ = static_cast<double>(progress.reading_used_ms);
  told_ms_ = used_ms_;
  ended_at_ = verdict.used_ms;
  happened_.clear();
  for (const as::DeskEvent& event : verdict.events) {
    if (const auto words = describe_event(event)) happened_.push_back(*words);
  }
  const std::string behind = compare_clocks(verdict);
  if (progress.handed_in) {
    after_model_ = {where() + " was handed in.", "", "Go on", {}};
    step_ = Step::after;
    return true;
  }
  const bool reads = so_far_.states.empty() && !progress.reading_done;
  goes_on_reading_ = reads;
  before_model_.title = where() + " goes on";
  before_model_.words = fmt::format(
      "This desk resumes station {} at {} used{}, by the assessor’s word.", number_ + 1,
      screens::examine::format_time_left(reads ? progress.reading_used_ms : verdict.used_ms),
      reads ? " of the reading time" : "");
  before_model_.words += behind;
  before_model_.button = "Go on";
  step_ = Step::before;
  return true;
}

void Sitting::end_station(const std::string& title) {
  ended_at_ = room_->session().now();
  room_.reset();
  after_model_ = {title, "", "Go on", {}};
  step_ = Step::after;
}

void Sitting::close_station() {
  file_->close(ended_at_, after_model_.comment);
  if (!file_->flush()) {
    // Nothing is lost while the program runs; it is tried again at each click.
    after_model_.title = "The disk is full. Call the invigilator, then go on.";
    return;
  }
  file_.reset();
  go_to_next(number_ + 1);
}

Tick Sitting::station_tick() const {
  if (room_) return room_->session().now();
  return ended_at_;
}

void Sitting::log(const std::string& what, json detail) {
  if (const auto words = describe_event({station_tick(), what, detail})) {
    happened_.push_back(*words);
  }
  if (file_) {
    file_->event(station_tick(), what, std::move(detail));
  } else {
    untold_.emplace_back(what, std::move(detail));
    as::put_reading(clocks_, untold_.back().second);
  }
}

// ------------------------------------------------------------------------------------ what comes
// in

std::size_t Sitting::advance(const std::vector<window::InputEvent>& events, double now_ms,
                             bool patient_is_there, screens::Ui& ui,
                             const screens::WindowSize& window,
                             std::optional<double> screen_pixels_per_mm) {
  now_ms_ = now_ms;
  window_ = window;
  look_at_clocks(now_ms);
  screen_pixels_per_mm_ = screen_pixels_per_mm;
  if (auto opened = opening_.take(now_ms, options_.is_played)) take_circuit(std::move(*opened));
  if (invigilator_opening_.take(now_ms, options_.is_played)) {
    invigilator_model_.known = true;
    if (step_ == Step::done) {  // the desk is the assessor's again
      invigilating_ = false;
      look_for_interrupted();
      candidate_model_.candidate.clear();
      setup_model_.extra = 0;
      step_ = Step::setup;
    }
  }
  for (const window::InputEvent& event : events) {
    if (const auto* focus = std::get_if<window::input::WindowFocus>(&event.content)) {
      take_window_focus(*focus, event.at_ms);
    }
    const auto* key = std::get_if<window::input::KeyChange>(&event.content);
    if (key != nullptr && key->down && !key->repeat && key->key == window::Key::f11) {
      open_invigilator();
    }
  }
  pass_time();
  const std::size_t turn = find_turn_end(events);
  if (!room_) {
    agreed_.reset();  // each station's clock begins by itself
    steer(events, ui);
    return turn;
  }
  if (paused_) {
    agreed_.reset();
    return turn;
  }
  watch_disk();
  const bool hands = !invigilating_;
  const std::size_t taken = room_->advance(hands ? events : std::vector<window::InputEvent>{},
                                           now_ms, patient_is_there, ui, window);
  charge_standing_still(patient_is_there);
  return hands ? taken : turn;
}

void Sitting::take_window_focus(const window::input::WindowFocus& focus, double at_ms) {
  if (!sits()) return;
  if (!focus.focused) {
    if (!away_since_ms_) log("left_window", json::object());
    away_since_ms_ = away_since_ms_.value_or(at_ms);
  } else if (away_since_ms_) {
    const double away = std::max(0.0, at_ms - *away_since_ms_);
    away_since_ms_.reset();
    log("came_back", {{"for_ms", static_cast<std::int64_t>(away)}});
    if (room_) {
      room_->tell("", fmt::format("You left the window for {:.0f} s; this is recorded.",
                                  std::max(1.0, away / 1000)));
    }
  }
}

void Sitting::watch_disk() {
  if (!file_ || !room_) return;
  const bool trouble = file_->problem().has_value();
  if (trouble == disk_trouble_) return;
  disk_trouble_ = trouble;
  room_->say_kept(trouble ? "Kept in memory: disk full" : "Every act kept", !trouble);
  if (trouble) {
    room_->tell("The disk is full.", "What you do is kept in memory. Call the invigilator.");
  }
}

}  // namespace redress::app
