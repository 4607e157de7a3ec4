// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/led_clock.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <stdexcept>

namespace redress::app {

namespace {

// Few frames of much time: nobody looks. Less than what is made up for at once (frame_clock.hpp).
constexpr double kMostAFrameMs = 400;
constexpr int kLongestMs = 3'600'000;

}  // namespace

LedClock::LedClock(const std::string& path) : pipe_(open(path.c_str(), O_RDONLY | O_NONBLOCK)) {
  if (pipe_ < 0) throw std::runtime_error("cannot read the clock " + path);
}

LedClock::~LedClock() { close(pipe_); }

void LedClock::listen() {
  std::array<char, 256> bytes{};
  for (;;) {
    const ssize_t count = read(pipe_, bytes.data(), bytes.size());
    if (count <= 0) return;
    for (ssize_t i = 0; i < count; ++i) {
      const char c = bytes[static_cast<std::size_t>(i)];
      if (c != '\n') {
        line_ += c;
        continue;
      }
      int ms = 0;
      const char* const last = line_.data() + line_.size();
      const auto [end, error] = std::from_chars(line_.data(), last, ms);
      if (error != std::errc{} || end != last || ms < 0 || ms > kLongestMs) {
        throw std::runtime_error("the clock was told “" + line_ + "”; allowed: 0 to 3600000 ms");
      }
      until_ms_ += ms;
      line_.clear();
    }
  }
}

bool LedClock::go_on() {
  if (stands()) return false;
  now_ms_ = std::min(until_ms_, now_ms_ + kMostAFrameMs);
  return true;
}

}  // namespace redress::app
