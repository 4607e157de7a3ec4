// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/marking.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <filesystem>

#include "render/app/desk_words.hpp"
#include "render/app/results.hpp"
#include "render/screens/examine/room_view.hpp"
#include "sim/assessment/moderation.hpp"
#include "sim/assessment/released_debrief.hpp"
#include "sim/assessment/report.hpp"
#include "sim/basics/file.hpp"
#include "sim/program/paper.hpp"
#include "sim/program/spread.hpp"
#include "sim/record/close_record.hpp"
#include "sim/record/record_file.hpp"
#include "sim/record/record_format.hpp"

namespace redress::app {

namespace as = assessment;
namespace fs = std::filesystem;
namespace sa = screens::assessment;

namespace {

std::string capitalised(std::string_view word) {
  std::string text(word);
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 32);
  return text;
}

/// Letters and digits of a name, for a file.
std::string to_file_name(const std::string& name) {
  std::string text;
  for (const char c : name) {
    const bool plain = (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
    text += plain ? c : '_';
  }
  return text;
}

/// Those near the line stand among others who were drawn: who reads it learns no mark.
std::string name_second_marking(const as::Cohort& cohort) {
  if (cohort.rows.empty()) return "";
  std::string names;
  for (const std::size_t i : as::calc_figures(cohort).second_marking) {
    names += (names.empty() ? "" : ", ") + cohort.rows[i].candidate;
  }
  return names.empty() ? "" : "To be rated by a second assessor as well: " + names + ".";
}

}  // namespace

Marking::Marking(MarkingOptions options) : options_(std::move(options)) {
  opening_model_.sealed_path = options_.sealed_path;
  opening_model_.store = options_.store;
  opening_model_.assessor = options_.assessor;
  opening_model_.marks_folder = options_.marks_folder;
  opening_model_.kept_folder = options_.kept_folder;
}

Marking::~Marking() { wipe(opening_model_.passphrase.typed); }

// ---------------------------------------------------------------------------------- store and
// marks

void Marking::begin_scoring() {
  step_ = Step::scoring;
  scoring_ = std::async(std::launch::async, [circuit = circuit_, where = opening_model_.store,
                                             kept = opening_model_.kept_folder,
                                             cut_short_too = opening_model_.cut_short_too] {
    Result<as::Store> opened = as::Store::open(where);
    if (!opened) return Scored{std::nullopt, {}, opened.problems()};
    as::Store store = std::move(opened).value();
    TakenIn taken = take_in(store, circuit->keys.id(), kept, cut_short_too);
    const auto on_all = [](std::size_t count, const std::function<void(std::size_t)>& work) {
      program::spread(count, 0, work);
    };
    Result<as::ScoredStore> stations = as::score_store(store, *circuit, on_all);
    return Scored{std::move(store), std::move(taken), std::move(stations)};
  });
}

void Marking::take_scored(Scored scored) {
  if (!scored.stations) {
    const Problem& first = scored.stations.problems().front();
    opening_model_.passphrase.trouble = "The store: " + first.place + " " + first.message + ".";
    step_ = Step::opening;
    return;
  }
  store_ = std::move(scored.store);
  stations_ = std::move(scored.stations.value().stations);
  list_.remarks = std::move(scored.taken.remarks);
  for (const Problem& p : scored.stations.value().left_out) {
    list_.remarks.push_back(p.place + ": " + p.message);
  }
  if (const std::size_t added = scored.taken.added; added > 0) {
    list_.told =
        fmt::format("{} taken into the store.",
                    added == 1 ? "One station was" : fmt::format("{} stations were", added));
  }
  columns_ = as::find_scored(circuit_->circuit);
  candidates_.clear();
  for (const as::ScoredStation& each : stations_) {
    if (candidates_.empty() || candidates_.back() != each.station.candidate) {
      candidates_.push_back(each.station.candidate);
    }
  }
  key_.emplace(as::make_workstation_key(circuit_->keys, opening_model_.assessor));
  ledger_path_ = opening_model_.marks_folder + "/" + to_file_name(opening_model_.assessor) + "-" +
                 find_moment() + ".marks";
  read_ledgers();
  const std::string twice =
      name_second_marking(as::gather_cohort(circuit_->circuit, stations_, ledgers_).cohort);
  if (!twice.empty()) list_.told += (list_.told.empty() ? "" : " ") + twice;
  step_ = Step::list;
  fill_list();
}

void Marking::read_ledgers() {
  ledgers_.clear();
  std::error_code error;
  std::vector<std::string> paths;
  for (const fs::directory_entry& entry :
       fs::directory_iterator(opening_model_.marks_folder, error)) {
    if (entry.path().extension() == ".marks") paths.push_back(entry.path().string());
  }
  std::sort(paths.begin(), paths.end());  // paths differ
  for (const std::string& path : paths) {
    const Result<std::string> text = read_file(path);
    auto ledger =
        text ? as::read_ledger(text.value(), circuit_->keys.id()) : Result<as::Ledger>(Problems{});
    if (ledger) {
      ledgers_.push_back(std::move(ledger).value());
    } else if (text) {
      list_.remarks.push_back(path + " " + ledger.problems().front().message +
                              ": it is not counted.");
    }
  }
}

void Marking::sign(const std::string& line) {
  std::error_code error;
  fs::create_directories(opening_model_.marks_folder, error);
  ledger_text_ += line;
  if (const auto problem = write_whole_file(ledger_path_, ledger_text_)) {
    list_.trouble = "“" + ledger_path_ + "” " + problem->message + ". It is tried again.";
    station_.trouble = list_.trouble;
    return;
  }
  list_.remarks.clear();
  read_ledgers();
}

std::string Marking::my_rating(const std::string& candidate, std::size_t station) const {
  std::string rating;
  for (const as::Ledger& ledger : ledgers_) {
    if (ledger.assessor != opening_model_.assessor) continue;
    for (const as::Rating& each : ledger.ratings) {
      if (each.candidate != candidate || each.station != station) continue;
      rating = capitalised(as::kRatingNames[static_cast<std::size_t>(each.rating)]);
    }
  }
  return rating;
}

bool Marking::is_seen(const std::string& candidate, std::size_t station) const {
  return list_.all_seen || seen_.contains({candidate, station}) ||
         !my_rating(candidate, station).empty();
}

const as::ScoredStation* Marking::find(const std::string& candidate, std::size_t station) const {
  return as::find_counted(stations_, candidate, station);
}

void Marking::fill_list() {
  list_.columns.clear();
  for (const std::size_t column : columns_) list_.columns.push_back(std::to_string(column + 1));
  list_.rows.clear();
  for (const std::string& candidate : candidates_) {
    sa::ResultRow row{candidate, {}};
    for (const std::size_t column : columns_) {
      sa::ResultCell cell;
      if (const as::ScoredStation* const at = find(candidate, column)) {
        const as::FinalMarks marks =
            as::apply_ledgers(at->score.sheet, candidate, column, ledgers_);
        cell = {true,
                at->station.whole,
                my_rating(candidate, column),
                is_seen(candidate, column),
                marks.total,
                marks.unsafe,
                marks.overruled()};
      }
      row.cells.push_back(std::move(cell));
    }
    list_.rows.push_back(std::move(row));
  }
  list_.trouble = list_.rows.empty() ? "The store has no station of this circuit." : "";
}

void Marking::open_station(std::size_t row, std::size_t column) {
  candidate_ = candidates_[row];
  number_ = columns_[column];
  station_ = {};
  step_ = Step::station;
  const auto content = store_->read_content(find(candidate_, number_)->station.id);
  if (content) station_.events = describe_events(as::verify_station(content.value()).events);
  fill_station();
}

void Marking::fill_station() {
  const as::ScoredStation& at = *find(candidate_, number_);
  const as::FinalMarks marks = as::apply_ledgers(at.score.sheet, candidate_, number_, ledgers_);
  station_.title = fmt::format("Candidate {}, station {}", candidate_, number_ + 1);
  if (!at.station.whole) {
    station_.title += ", cut short at " + screens::examine::format_time_left(at.station.used_ms);
  }
  station_.rating = my_rating(candidate_, number_);
  station_.seen = is_seen(candidate_, number_);
  station_.unsafe = marks.unsafe;
  station_.total = marks.total;
  station_.engine_total = marks.engine_total;
  station_.items.clear();
  for (const as::FinalItem& item : marks.items) {
    if (item.max <= 0.0) continue;  // not needed here
    const scoring::RubricLine& line = scoring::kRubric[static_cast<std::size_t>(item.item)];
    station_.items.push_back(
        {line.name, line.title, item.max, item.engine, item.final, item.reasons});
  }
}

void Marking::rate(std::size_t rating) {
  if (step_ != Step::station || is_seen(candidate_, number_) || rating >= as::kRatingNames.size()) {
    return;
  }
  if (ledger_text_.empty()) {
    ledger_text_ = as::begin_ledger(circuit_->keys.id(), *key_, ledger_chain_);
  }
  sign(as::write_rating({candidate_, number_, static_cast<as::GlobalRating>(rating)}, *key_,
                        ledger_chain_));
  fill_station();
}

void Marking::overrule() {
  const sa::ItemRow& row = station_.items[*station_.overruling];
  const auto line = std::find_if(std::begin(scoring::kRubric), std::end(scoring::kRubric),
                                 [&](const scoring::RubricLine& l) { return row.name == l.name; });
  if (ledger_text_.empty()) {
    ledger_text_ = as::begin_ledger(circuit_->keys.id(), *key_, ledger_chain_);
  }
  const as::Overruling entry{candidate_, number_,        line->item,
                             row.engine, station_.marks, station_.reason};
  const auto written = as::write_overruling(entry, row.max, *key_, ledger_chain_);
  if (!written) {
    station_.trouble = written.problems().front().place + " " + written.problems().front().message;
    return;
  }
  station_.overruling.reset();
  sign(written.value());
  fill_station();
}

std::optional<Watched> Marking::watch() {
  const as::ScoredStation& at = *find(candidate_, number_);
  const auto content = store_->read_content(at.station.id);
  const auto opened = content ? as::open_station(content.value(), circuit_->keys)
                              : Result<as::OpenedStation>(content.problems());
  // What was cut short is watched as far as it goes.
  const auto closed =
      opened ? record::close_record(opened.value().record) : Result<std::string>(opened.problems());
  const auto record =
      closed ? record::read_record(closed.value()) : Result<record::Record>(closed.problems());
  if (!record) {
    station_.trouble = "It cannot be watched: " + record.problems().front().message + ".";
    return std::nullopt;
  }
  for (const as::Form& form : circuit_->forms[number_]) {
    if (form.written != record.value().header.the_case) continue;
    Watched watched;
    watched.shelved.content = form.content;
    watched.shelved.written = form.written;
    watched.record = closed.value();
    watched.blind = !is_seen(candidate_, number_);
    const as::StationMarking marking =
        as::find_marking(circuit_->circuit.stations[number_],
                         as::apply_ledgers(at.score.sheet, candidate_, number_, ledgers_));
    watched.counted = {marking.column, [marking](scoring::ScoreSheet sheet) {
                         return marking.apply(std::move(sheet));
                       }};
    return watched;
  }
  station_.trouble = "Its patient is not of this circuit.";
  return std::nullopt;
}

void Marking::write_reports(const sa::ResultsOutcome& wanted) {
  const as::GatheredCohort gathered = as::gather_cohort(circuit_->circuit, stations_, ledgers_);
  list_.remarks = gathered.remarks;
  const as::Cohort& cohort = gathered.cohort;
  if (cohort.rows.empty()) {
    list_.trouble = "No candidate has every station of this circuit: there is no cohort yet.";
    return;
  }
  const as::CohortFigures figures = as::calc_figures(cohort);
  const as::ReportHead head{as::to_short_text(circuit_->keys.id()),
                            std::string(record::kEngineVersion), write_day(find_today()), false};
  std::string name;
  std::string text;
  if (wanted.write_html) {
    name = "cohort.html";
    text = as::make_cohort_report(cohort, figures, head);
  } else if (wanted.write_pdf) {
    name = "cohort.pdf";
    Result<std::string> pdf = program::make_pdf(as::make_cohort_document(cohort, figures, head));
    if (!pdf) {
      list_.trouble = "No PDF was written: " + pdf.problems().front().message + ".";
      return;
    }
    text = std::move(pdf).value();
  } else if (wanted.write_csv) {
    name = "marks.csv";
    text = as::make_csv(cohort, figures);
  } else if (wanted.write_moderation) {
    name = "moderation.csv";
    text = as::make_moderation_csv(circuit_->circuit, as::to_text(circuit_->keys.id()), stations_,
                                   ledgers_, cohort, figures);
  } else if (wanted.write_candidate) {
    const std::string& candidate = candidates_[*wanted.write_candidate];
    const auto row =
        std::find_if(cohort.rows.begin(), cohort.rows.end(),
                     [&](const as::CohortRow& each) { return each.candidate == candidate; });
    if (row == cohort.rows.end()) {
      list_.trouble = "Candidate " + candidate + " has not every station: there is no page yet.";
      return;
    }
    name = "candidate_" + to_file_name(candidate) + ".html";
    text = as::make_candidate_report(cohort, figures,
                                     static_cast<std::size_t>(row - cohort.rows.begin()), head);
  } else {
    return;
  }
  const std::string path = opening_model_.marks_folder + "/" + name;
  std::error_code error;
  fs::create_directories(opening_model_.marks_folder, error);
  const auto problem = write_whole_file(path, text);
  list_.trouble = problem ? "“" + path + "” " + problem->message + "." : "";
  list_.told = problem ? "" : "“" + path + "” was written.";
}

void Marking::release(std::optional<std::size_t> row) {
  const std::string folder = opening_model_.marks_folder + "/released";
  std::error_code error;
  fs::create_directories(folder, error);
  std::size_t written = 0;
  list_.trouble.clear();
  list_.told.clear();
  for (std::size_t r = 0; r < candidates_.size(); ++r) {
    if (row && *row != r) continue;
    for (const std::size_t column : columns_) {
      const as::ScoredStation* const at = find(candidates_[r], column);
      if (at == nullptr) continue;
      const auto content = store_->read_content(at->station.id);
      const auto released =
          content ? as::release_debrief(
                        content.value(), *circuit_,
                        as::apply_ledgers(at->score.sheet, candidates_[r], column, ledgers_))
                  : Result<as::ReleasedDebrief>(content.problems());
      const std::string path = folder + "/" + as::make_released_name(candidates_[r], column);
      const auto problem = released ? write_whole_file(path, as::to_text(released.value()))
                                    : std::optional<Problem>(released.problems().front());
      if (problem) {
        list_.trouble = "“" + path + "” " + problem->message + ".";
        return;
      }
      ++written;
    }
  }
  list_.told = fmt::format(
      "{} released into “{}”.",
      written == 1 ? "One debrief was" : fmt::format("{} debriefs were", written), folder);
}

// --------------------------------------------------------------------------------------- the pages

void Marking::advance(double now_ms) {
  now_ms_ = now_ms;
  if (auto opened = opening_.take(now_ms, options_.is_played)) {
    circuit_ = std::make_shared<const as::OpenedCircuit>(std::move(*opened));
    begin_scoring();
  }
  const bool done =
      scoring_.valid() && (options_.is_played ||
                           scoring_.wait_for(std::chrono::seconds{0}) == std::future_status::ready);
  if (done) take_scored(scoring_.get());
}

MarkingOutcome Marking::draw(screens::Ui& ui, const screens::WindowSize& window) {
  MarkingOutcome outcome;
  if (ui.place() != screens::Place::study) ui.go_to(screens::Place::study);
  const screens::StudyLayout layout = screens::make_study_layout(window);
  sa::DeskBar bar;
  bar.leaves = true;
  bar.tab = sa::AssessmentTab::results;
  if (circuit_) bar.candidate = circuit_->circuit.title;
  const sa::DeskBarOutcome top = sa::draw_desk_bar(ui, layout, bar);
  outcome.leave = top.leave;
  if (top.tab) outcome.tab = static_cast<std::size_t>(*top.tab);
  switch (step_) {
    case Step::opening:
      if (opening_.is_live(now_ms_) || opening_model_.passphrase.trouble.empty() ||
          opening_.has_failed()) {
        opening_.tell(opening_model_.passphrase, now_ms_);
      }
      if (sa::draw_results_opening(ui, layout, opening_model_)) {
        opening_model_.passphrase.trouble.clear();
        opening_.try_passphrase(opening_model_.sealed_path, opening_model_.passphrase.typed,
                                now_ms_);
        outcome.acted = true;
      }
      break;
    case Step::scoring:
      sa::draw_notice(ui, layout, "Looking at what is there",
                      "Every station without marks is simulated once more and marked.", page_);
      break;
    case Step::list: {
      const sa::ResultsOutcome did = sa::draw_results(ui, layout, list_, true);
      outcome.acted = did.show_all || did.open || did.write_html || did.write_pdf ||
                      did.write_csv || did.write_moderation || did.write_candidate.has_value() ||
                      did.release || did.release_all;
      if (did.show_all) {
        list_.all_seen = true;
        fill_list();
      } else if (did.open) {
        open_station(did.open->first, did.open->second);
      } else if (did.release || did.release_all) {
        release(did.release);
      } else {
        write_reports(did);
      }
      break;
    }
    case Step::station: {
      const sa::StationMarksOutcome did = sa::draw_station_marks(ui, layout, station_);
      outcome.acted = did.rate || did.show || did.overrule || did.watch || did.back;
      if (did.rate) rate(*did.rate);
      if (did.show) {
        seen_.insert({candidate_, number_});
        fill_station();
      }
      if (did.overrule) overrule();
      if (did.watch) outcome.watch = watch();
      if (did.back) {
        step_ = Step::list;
        fill_list();
      }
      break;
    }
  }
  return outcome;
}

}  // namespace redress::app
