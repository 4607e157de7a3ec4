// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// How an examination in the window begins: for practice with a record of its own, at a station with
// what its circuit allows, where it is kept, and what was done before an interruption.
#include <algorithm>
#include <fstream>
#include <utility>

#include "render/app/departments.hpp"
#include "render/app/room.hpp"
#include "render/screens/examine/scene.hpp"

namespace redress::app {

namespace ex = screens::examine;
namespace rec = screens::record;

namespace {

std::unique_ptr<std::ostream> open_record(const std::string& path) {
  if (path.empty()) return nullptr;
  auto out = std::make_unique<std::ofstream>(path, std::ios::binary | std::ios::trunc);
  // What cannot be opened is told by the session as what cannot be written.
  return out;
}

ex::Session make_session(const ShelvedCase& shelved, const RoomOptions& options) {
  const ex::Draw draw{options.seed, 1.0};
  if (!options.station) {
    return {shelved.content, shelved.written, draw, open_record(options.record_path),
            options.settings};
  }
  const StationTerms& station = *options.station;
  std::unique_ptr<ex::RecordKeeper> keeper;
  if (station.file) keeper = std::make_unique<StationKeeper>(station.file);
  ex::SessionSettings settings = options.settings;
  settings.instruments = station.instruments;
  settings.tasks = station.tasks;
  return {shelved.content, shelved.written, draw, std::move(keeper), station.so_far, settings};
}

std::vector<findings::WrittenFinding> find_notes(const record::Record& record) {
  std::vector<findings::WrittenFinding> notes;
  for (const Act& act : record.acts) {
    if (const auto* note = std::get_if<act::Note>(&act.content)) {
      notes.push_back({act.at_ms, note->finding});
    }
  }
  return notes;
}

}  // namespace

Room::Room(const ShelvedCase& shelved, const RoomOptions& options)
    : shelved_(shelved),
      appearance_(ex::make_appearance(shelved.content)),
      record_path_(options.record_path),
      session_(make_session(shelved, options)),
      card_open_(options.card_open) {
  hand_help_ = options.hand_help;
  mode_ = options.mode;
  input_.use(hand_help_);
  settings_ = session_.settings();
  settings_.cautions = !options.station && mode_ != Mode::exam_like;
  station_ = options.station;
  if (station_) {
    resumed_at_ = session_.now();
    const std::vector<findings::WrittenFinding> notes = find_notes(station_->so_far);
    if (!notes.empty()) editor_ = rec::CardEditor(notes);
    settings_.view_fixed = true;
    card_state_.finish = "Finish and hand in";
  } else if (mode_ == Mode::exam_like) {
    settings_.view_fixed = true;
    settings_.view_fixed_words = "Fixed in an exam-like run.";
  }
  use(settings_.captions);
  editor_.use(options.tradition);
  card_state_.departments = options.departments;
  card_state_.department = find_department(options.departments, options.department);
  if (options.begin_ms) clock_.advance(*options.begin_ms);
}

Room::~Room() {
  // A station that is left without being handed in goes on later.
  if (!ended_ && !station_) session_.end();
}

Tick Room::time_left() const {
  return std::max<Tick>(0, (station_ ? station_->time_ms : kExamLikeMs) - session_.now());
}

void Room::say_kept(const std::string& words, bool all_kept) {
  station_->words.kept = words;
  station_->words.all_kept = all_kept;
}

}  // namespace redress::app
