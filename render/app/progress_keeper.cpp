// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/progress_keeper.hpp"

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <utility>

namespace redress::app {

namespace {

/// In order of time; of one second, in the order in which they were entered.
template <class Entry>
void put_in_order(std::vector<Entry>& entries) {
  std::stable_sort(entries.begin(), entries.end(),
                   [](const Entry& a, const Entry& b) { return a.at_s < b.at_s; });
}

}  // namespace

ProgressKeeper::ProgressKeeper(const std::string& folder) {
  if (folder.empty()) {
    refused_ = "There is no home folder; your progress is forgotten at the end.";
  } else {
    std::error_code ignored;
    std::filesystem::create_directories(folder, ignored);
    Result<progress::Store> opened = progress::Store::open(folder + "/progress.sqlite");
    if (opened.ok()) {
      store_.emplace(std::move(opened).value());
    } else {
      refused_ = opened.problems().front().message +
                 " What you do now is kept until you leave, no longer.";
    }
  }
  trouble_ = refused_;
}

std::int64_t ProgressKeeper::now_s() {
  const auto now = std::chrono::system_clock::now().time_since_epoch();
  return std::chrono::duration_cast<std::chrono::seconds>(now).count();
}

template <class Entry>
void ProgressKeeper::write(std::vector<Entry>& waiting) {
  while (store_ && !waiting.empty()) {
    if (const auto problem = store_->add(waiting.front())) {
      trouble_ = problem->message;
      return;
    }
    waiting.erase(waiting.begin());
  }
}

void ProgressKeeper::catch_up() {
  trouble_ = refused_;
  write(examinations_);
  write(drills_);
}

void ProgressKeeper::enter(progress::ExaminationEntry entry) {
  entry.at_s = now_s();
  examinations_.push_back(std::move(entry));
  catch_up();
}

void ProgressKeeper::enter(progress::DrillEntry entry) {
  entry.at_s = now_s();
  drills_.push_back(std::move(entry));
  catch_up();
}

void ProgressKeeper::mark_shown(const std::string& learner, const std::string& case_key) {
  if (!store_) return;
  if (const auto problem = store_->mark_shown(learner, case_key)) trouble_ = problem->message;
}

bool ProgressKeeper::was_shown(const std::string& learner, const std::string& case_key) const {
  if (store_ && store_->was_shown(learner, case_key)) return true;
  return std::any_of(examinations_.begin(), examinations_.end(), [&](const auto& each) {
    return each.learner == learner && each.case_key == case_key;
  });
}

progress::History ProgressKeeper::read(const std::string& learner) {
  catch_up();
  progress::History history;
  if (store_) {
    Result<progress::History> read = store_->read(learner);
    if (read.ok()) {
      history = std::move(read).value();
    } else {
      trouble_ = read.problems().front().message;
    }
  }
  for (const auto& each : examinations_) {
    if (each.learner == learner) history.examinations.push_back(each);
  }
  for (const auto& each : drills_) {
    if (each.learner == learner) history.drills.push_back(each);
  }
  put_in_order(history.examinations);
  put_in_order(history.drills);
  return history;
}

}  // namespace redress::app
