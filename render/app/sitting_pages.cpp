// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a workstation shows at each step, and the invigilator's page.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <tuple>

#include "render/app/sitting.hpp"
#include "render/screens/first_run/first_run.hpp"

namespace redress::app {

namespace as = assessment;
namespace sa = screens::assessment;
using nlohmann::json;
using screens::examine::format_time_left;

namespace {

std::string in_minutes(Tick ms) { return format_time_left(ms); }

std::string count(std::size_t number, std::string_view word) {
  return fmt::format("{} {}{}", number, word, number == 1 ? "" : "s");
}

}  // namespace

std::string Sitting::where() const {
  return fmt::format("Station {} of {}", number_ + 1, circuit_->circuit.stations.size());
}

std::string Sitting::title() const {
  const bool sits = circuit_ && step_ >= Step::before && step_ != Step::done;
  return sits ? where() + " – Redress" : "Redress";
}

std::string Sitting::describe_circuit() const {
  const std::size_t scored = as::find_scored(circuit_->circuit).size();
  const std::size_t rests = circuit_->circuit.stations.size() - scored;
  return fmt::format("{} with a patient{}, {} in all. Circuit {}.", count(scored, "station"),
                     rests > 0 ? ", " + count(rests, "rest") : "",
                     in_minutes(1000 * as::calc_length_s(circuit_->circuit)),
                     as::to_short_text(circuit_->keys.id()));
}

std::string Sitting::describe_station() const {
  return fmt::format(
      "You read the story and your tasks for {}. Then the patient is there for {}. When time is up "
      "your card is handed in as it stands.",
      in_minutes(as::calc_reading_ms(station(), terms_)),
      in_minutes(as::calc_station_ms(station(), {terms_.extra_percent, 0})));
}

RoomOptions Sitting::make_room_options() const {
  RoomOptions options = options_.room;
  options.record_path.clear();
  options.mode = Mode::exam_like;
  options.station.emplace();
  screens::WindowSize plain = window_;
  plain.scale = 1;  // larger text makes no larger eyes
  double pixels_per_mm = screens::make_examine_layout(plain, true).pixels_per_mm;
  if (screen_pixels_per_mm_) {
    pixels_per_mm = std::min(pixels_per_mm, station().magnification * *screen_pixels_per_mm_);
  }
  options.station->pixels_per_mm = pixels_per_mm;
  return options;
}

bool Sitting::shows_patient() const {
  return room_ && !invigilating_ && !paused_ && !room_->shows_whole_card();
}

bool Sitting::hides_pointer(double now_ms) const {
  return shows_patient() && room_->hides_pointer(now_ms);
}

bool Sitting::is_live() const {
  return room_ || step_ == Step::reading || step_ == Step::rest || opening_.is_live(now_ms_) ||
         invigilator_opening_.is_live(now_ms_);
}

void Sitting::tell_of_new_graphics() {
  if (room_) room_->tell_of_new_graphics();
}

void Sitting::set_text_size(std::size_t index, float largest_scale, std::string size_on_screen) {
  setup_model_.text_size = index;
  setup_model_.largest_scale = largest_scale;
  setup_model_.size_on_screen = std::move(size_on_screen);
}

void Sitting::draw_patient(Stage& stage, const screens::WindowSize& window) {
  if (shows_patient()) room_->draw_patient(stage, window);
}

sa::DeskBar Sitting::make_bar() const {
  sa::DeskBar bar;
  bar.leaves = step_ == Step::opening || step_ == Step::setup;
  if (step_ == Step::opening) bar.tab = sa::AssessmentTab::sit;
  if (bar.leaves || step_ == Step::candidate) return bar;
  bar.invigilator = !invigilating_;
  bar.candidate = "Candidate " + candidate_;
  if (step_ == Step::practice) {
    bar.where = "Practice minute";
  } else if (step_ == Step::done) {
    bar.where = circuit_->circuit.title;
  } else {
    bar.where = where();
  }
  if (paused_) {
    bar.clock_words = "paused";
  } else if (step_ == Step::reading) {
    const Tick all = as::calc_reading_ms(station(), terms_);
    bar.clock_words = "reading, left";
    bar.clock = format_time_left(all - static_cast<Tick>(used_ms_));
  } else if (step_ == Step::rest) {
    bar.clock_words = "rest, left";
    bar.clock = format_time_left(station().time_s * 1000 - static_cast<Tick>(used_ms_));
  } else if (room_) {
    bar.clock_words = "left";
    bar.clock = format_time_left(room_->time_left());
  }
  return bar;
}

SittingOutcome Sitting::draw(screens::Ui& ui, const screens::WindowSize& window) {
  const auto page = std::tuple(step_, invigilating_, paused_, opening_.is_live(now_ms_));
  SittingOutcome outcome = draw_page(ui, window);
  outcome.acted = page != std::tuple(step_, invigilating_, paused_, opening_.is_live(now_ms_));
  return outcome;
}

SittingOutcome Sitting::draw_page(screens::Ui& ui, const screens::WindowSize& window) {
  SittingOutcome outcome;
  if (room_ && !invigilating_ && !paused_) {
    draw_room(ui);
    return outcome;
  }
  if (ui.place() != screens::Place::study) ui.go_to(screens::Place::study);
  if (!focus_.empty()) ui.focus(focus_);
  focus_.clear();
  const screens::StudyLayout layout = screens::make_study_layout(window);
  const sa::DeskBarOutcome bar = sa::draw_desk_bar(ui, layout, make_bar());
  if (bar.leave) outcome.leave = true;
  if (bar.tab) outcome.tab = static_cast<std::size_t>(*bar.tab);
  if (bar.invigilator) open_invigilator();
  if (invigilating_) {
    invigilator_model_.at_station = file_ != nullptr && step_ != Step::after;
    invigilator_model_.paused = paused_;
    invigilator_model_.happened = happened_;
    invigilator_model_.moving =
        "Close this window: what was done is kept. Carry “" +
        (file_ ? file_->path() : std::string()) +
        "” to the folder of another workstation that has the circuit open, and resume there.";
    invigilator_opening_.tell(invigilator_model_.passphrase, now_ms_);
    obey(sa::draw_invigilator(ui, layout, invigilator_model_));
  } else if (paused_) {
    sa::draw_notice(ui, layout, "Paused", "The invigilator has paused this station. Please wait.",
                    page_);
  } else {
    draw_step(ui, layout, outcome);
  }
  return outcome;
}

void Sitting::draw_room(screens::Ui& ui) {
  const RoomOutcome outcome = room_->draw(ui, window_, screen_pixels_per_mm_);
  if (!outcome.finished) return;
  if (step_ == Step::practice) {
    go_to_next(0);
  } else {
    end_station(outcome.time_was_up ? "Time is up. Your card was handed in as it stands."
                                    : where() + " was handed in.");
  }
}

void Sitting::draw_step(screens::Ui& ui, const screens::StudyLayout& layout,
                        SittingOutcome& outcome) {
  switch (step_) {
    case Step::opening: {
      opening_.tell(opening_model_.passphrase, now_ms_);
      const sa::OpeningOutcome did = sa::draw_opening(ui, layout, opening_model_);
      if (did.choose) opening_model_.path = opening_model_.found[*did.choose];
      if (did.choose_debrief) opening_model_.debrief = opening_model_.debriefs[*did.choose_debrief];
      if (did.show_debrief) outcome.debrief = opening_model_.debrief;
      if (did.open) {
        opening_.try_passphrase(opening_model_.path, opening_model_.passphrase.typed, now_ms_);
      }
      return;
    }
    case Step::setup: {
      const sa::SetupOutcome did = sa::draw_setup(ui, layout, setup_model_);
      outcome.calibrate = did.calibrate;
      if (did.text_size_changed) {
        outcome.text_scale = screens::kTextScales[setup_model_.text_size];
      }
      if (did.resume) {
        const sa::Interrupted one = setup_model_.interrupted[*did.resume];
        (void)resume(one.candidate, one.station);
      } else if (did.next) {
        look_for_interrupted();
        setup_model_.trouble.clear();
        step_ = Step::candidate;
        focus_ = "desk/candidate";
      }
      return;
    }
    case Step::candidate:
      number_ = as::find_scored(circuit_->circuit).front();
      candidate_model_.magnification =
          screen_pixels_per_mm_
              ? fmt::format("The eyes are {:.1f} times life size on this screen.",
                            *make_room_options().station->pixels_per_mm / *screen_pixels_per_mm_)
              : "The size on this screen is not known.";
      if (sa::draw_candidate(ui, layout, candidate_model_) && begin_candidate()) begin_practice();
      return;
    case Step::before:
      if (sa::draw_before(ui, layout, before_model_)) {
        if (!file_) {
          begin_reading();
        } else if (goes_on_reading_) {
          goes_on_reading_ = false;
          step_ = Step::reading;
        } else {
          begin_station();
        }
      }
      return;
    case Step::reading: {
      const CasePatient& patient = form().content.patient;
      reading_model_.name = patient.name.empty() ? "Patient" : patient.name;
      reading_model_.age = fmt::format("{:.0f}", std::floor(patient.age_years));
      reading_model_.story = patient.story;
      reading_model_.tasks = station().tasks;
      reading_model_.notice = notice_;
      sa::draw_station_reading(ui, layout, reading_model_);
      return;
    }
    case Step::rest: {
      const bool last = number_ + 1 >= circuit_->circuit.stations.size();
      const std::string next =
          last ? "It is the last." : fmt::format("Station {} comes next.", number_ + 2);
      const std::string words = notice_.empty() ? next : next + " " + notice_;
      if (sa::draw_rest(ui, layout, words, page_)) go_to_next(number_ + 1);
      return;
    }
    case Step::after:
      if (sa::draw_after(ui, layout, after_model_)) close_station();
      return;
    case Step::done:
      sa::draw_notice(ui, layout, "All stations are done",
                      "What you did is kept and handed in. Results come from the assessors. Please "
                      "call the invigilator.",
                      page_);
      return;
    case Step::practice:
    case Step::station: return;
  }
}

// ------------------------------------------------------------------------------ the invigilator's

void Sitting::open_invigilator() {
  if (step_ < Step::practice || invigilating_) return;
  invigilating_ = true;
  invigilator_model_ = {};
  focus_ = "desk/passphrase";
}

void Sitting::obey(sa::InvigilatorAct act) {
  sa::InvigilatorModel& model = invigilator_model_;
  switch (act) {
    case sa::InvigilatorAct::none: return;
    case sa::InvigilatorAct::try_passphrase:
      invigilator_opening_.try_passphrase(opening_model_.path, model.passphrase.typed, now_ms_);
      return;
    case sa::InvigilatorAct::close:
      invigilating_ = false;
      wipe(model.passphrase.typed);
      return;
    case sa::InvigilatorAct::pause:
      paused_ = !paused_;
      if (room_) paused_ ? room_->pause(now_ms_) : room_->resume(now_ms_);
      log(paused_ ? "paused" : "went_on", {{"reason", model.reason}});
      model.told = paused_ ? "Paused." : "The clock goes on.";
      return;
    case sa::InvigilatorAct::give_time: {
      const auto ms = static_cast<Tick>(std::llround(model.credit_s * 1000));
      terms_.credit_ms += ms;
      if (room_) room_->give_time(ms);
      log("time_credit", {{"ms", ms}, {"reason", model.reason}});
      model.told = fmt::format("{:.0f} s given.", model.credit_s);
      return;
    }
    case sa::InvigilatorAct::note_incident:
      log("incident", {{"words", model.incident}});
      model.told = "Noted: " + model.incident;
      model.incident.clear();
      return;
    case sa::InvigilatorAct::abort:
      log("aborted", {{"reason", model.reason}});
      if (!room_) begin_station();
      room_->stop();
      invigilating_ = false;
      paused_ = false;
      end_station("The invigilator ended this station. Your card was handed in as it stands.");
      return;
  }
}

}  // namespace redress::app
