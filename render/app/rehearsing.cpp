// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/rehearsing.hpp"

#include <chrono>
#include <utility>

#include "sim/program/spread.hpp"

namespace redress::app {

namespace as = assessment;

Rehearsing::~Rehearsing() { stop(); }

void Rehearsing::begin(as::Circuit circuit, std::vector<PreparedStation> stations,
                       const as::RehearsalPlan& plan) {
  stop();
  (void)take(true);
  progress_ = std::make_shared<Progress>();
  running_ = std::async(std::launch::async,
                        [circuit = std::move(circuit), stations = std::move(stations), plan,
                         progress = progress_]() -> std::optional<Rehearsed> {
                          const auto on_all = [](std::size_t count,
                                                 const std::function<void(std::size_t)>& work) {
                            program::spread(count, 0, work);
                          };
                          std::vector<const std::vector<as::PreparedForm>*> forms;
                          for (const PreparedStation& station : stations)
                            forms.push_back(station.get());
                          Rehearsed rehearsed;
                          rehearsed.cohort = as::send_through(circuit, forms, plan, on_all, [&] {
                            ++progress->done;
                            return !progress->stopped;
                          });
                          if (rehearsed.cohort.rows.empty()) return std::nullopt;
                          rehearsed.figures = as::calc_figures(rehearsed.cohort);
                          return rehearsed;
                        });
}

void Rehearsing::stop() {
  if (progress_) progress_->stopped = true;
}

std::size_t Rehearsing::done() const { return progress_ ? progress_->done.load() : 0; }

std::optional<Rehearsed> Rehearsing::take(bool waits) {
  const bool there = running_.valid() && (waits || running_.wait_for(std::chrono::seconds{0}) ==
                                                       std::future_status::ready);
  return there ? running_.get() : std::nullopt;
}

}  // namespace redress::app
