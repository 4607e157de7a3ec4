// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/circuit_opening.hpp"

#include <fmt/format.h>
#include <sodium.h>

#include <chrono>
#include <cmath>
#include <memory>
#include <thread>
#include <utility>

#include "sim/basics/file.hpp"
#include "sim/program/failure_count.hpp"

namespace redress::app {

using assessment::OpenedCircuit;

void wipe(std::string& secret) {
  sodium_memzero(secret.data(), secret.size());
  secret.clear();
}

void CircuitOpening::try_passphrase(const std::string& path, std::string& typed, double now_ms) {
  if (trying_.valid() || now_ms < not_before_) return;
  (void)assessment::harden_process();
  trouble_.clear();
  Result<std::string> bytes = read_file(path);
  assessment::CircuitId id{};
  if (bytes) {
    const auto read = assessment::read_circuit_id(bytes.value());
    read ? void(id = read.value()) : void(bytes = read.problems());
  }
  if (!bytes) {
    const Problem& first = bytes.problems().front();
    trouble_ = "“" + path + "” " + first.message + ".";
    wipe(typed);
    return;
  }
  if (!known_ || *known_ != id) {
    known_ = id;
    failures_ = program::read_failures(id);
    not_before_ = now_ms + 1000.0 * static_cast<double>(assessment::calc_wait_s(failures_));
    before_this_window_ = failures_ > 0;
    if (before_this_window_) return;
  }
  auto secret = std::make_shared<assessment::LockedBytes>(assessment::lock_text(typed));
  wipe(typed);
  before_this_window_ = false;
  trying_ =
      std::async(std::launch::async,
                 [secret, id, waited_for = failures_, text = std::move(bytes).value()]() -> Tried {
                   program::FailureCount failures(id);
                   if (failures.count() > waited_for) {  // another window has tried as well
                     std::this_thread::sleep_for(
                         std::chrono::seconds(assessment::calc_wait_s(failures.count())));
                   }
                   Tried tried{assessment::open_circuit(text, secret->text())};
                   tried.failures = tried.opened ? 0 : failures.count() + 1;
                   if (tried.failures != failures.count()) failures.set(tried.failures);
                   return tried;
                 });
}

std::optional<OpenedCircuit> CircuitOpening::take(double now_ms, bool wait) {
  if (!trying_.valid()) return std::nullopt;
  if (!wait && trying_.wait_for(std::chrono::seconds{0}) != std::future_status::ready) {
    return std::nullopt;
  }
  Tried tried = trying_.get();
  // Counted here as well: an account without a home keeps no file.
  failures_ = tried.opened ? 0 : std::max(tried.failures, failures_ + 1);
  if (tried.opened) return std::move(tried.opened).value();
  not_before_ = now_ms + 1000.0 * static_cast<double>(assessment::calc_wait_s(failures_));
  return std::nullopt;
}

void CircuitOpening::tell(screens::assessment::PassphraseModel& model, double now_ms) const {
  model.busy = trying_.valid();
  model.waits = now_ms < not_before_;
  model.trouble = trouble_;
  if (failures_ == 0 || model.busy) return;
  model.trouble =
      before_this_window_ ? "Wrong passphrases were tried here before." : "That does not open it.";
  if (model.waits) {
    model.trouble +=
        fmt::format(" Next try in {:.0f} s.", std::ceil((not_before_ - now_ms) / 1000));
  }
}

}  // namespace redress::app
