// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/circuit_opening.hpp"

#include <fmt/format.h>
#include <sodium.h>

#include <chrono>
#include <cmath>
#include <memory>
#include <utility>

#include "sim/basics/file.hpp"

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
  if (bytes) {
    if (const auto id = assessment::read_circuit_id(bytes.value()); !id) bytes = id.problems();
  }
  if (!bytes) {
    const Problem& first = bytes.problems().front();
    trouble_ = "“" + path + "” " + first.message + ".";
    wipe(typed);
    return;
  }
  auto secret = std::make_shared<assessment::LockedBytes>(assessment::lock_text(typed));
  wipe(typed);
  trying_ = std::async(std::launch::async, [secret, text = std::move(bytes).value()] {
    return assessment::open_circuit(text, secret->text());
  });
}

std::optional<OpenedCircuit> CircuitOpening::take(double now_ms, bool wait) {
  if (!trying_.valid()) return std::nullopt;
  if (!wait && trying_.wait_for(std::chrono::seconds{0}) != std::future_status::ready) {
    return std::nullopt;
  }
  Result<OpenedCircuit> opened = trying_.get();
  if (opened) {
    failures_ = 0;
    return std::move(opened).value();
  }
  not_before_ = now_ms + 1000.0 * static_cast<double>(assessment::calc_wait_s(++failures_));
  return std::nullopt;
}

void CircuitOpening::tell(screens::assessment::PassphraseModel& model, double now_ms) const {
  model.busy = trying_.valid();
  model.waits = now_ms < not_before_;
  model.trouble = trouble_;
  if (failures_ == 0 || model.busy) return;
  model.trouble = "That does not open it.";
  if (model.waits) {
    model.trouble +=
        fmt::format(" Next try in {:.0f} s.", std::ceil((not_before_ - now_ms) / 1000));
  }
}

}  // namespace redress::app
