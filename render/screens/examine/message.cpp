// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/examine/message.hpp"

#include <utility>

namespace redress::screens::examine {

void MessageLine::say(Said said) {
  if (said.voice == Voice::fault) {
    fault_ = std::move(said);
    shown_.reset();
  } else if (said.voice == Voice::patient || said.at_once) {
    shown_ = std::move(said);
  } else {
    waiting_ = std::move(said);
  }
}

void MessageLine::ask(Tick at, std::string words) { talk_.push_back({at, std::move(words), {}}); }

void MessageLine::answer(Tick at, const std::string& asked, std::string words) {
  for (auto it = talk_.rbegin(); it != talk_.rend(); ++it) {
    if (it->asked == asked && it->answered.empty()) {
      it->answered = words;
      break;
    }
  }
  say({at, Voice::patient, true, {}, std::move(words)});
}

void MessageLine::step(Tick now, bool occluder_moves) {
  if (occluder_moves) moved_at_ = now;
  if (shown_ && now - shown_->at_ms >= kShownMs) shown_.reset();
  if (!waiting_ || now - moved_at_ < kRestMs) return;
  shown_ = std::move(waiting_);
  shown_->at_ms = now;
  waiting_.reset();
}

}  // namespace redress::screens::examine
