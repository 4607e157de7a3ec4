// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/parts/probe.hpp"

namespace redress::screens {

void UiProbe::begin_frame() {
  parts_.clear();
  texts_.clear();
  regions_.clear();
  outlines_.clear();
}

const ProbedPart* UiProbe::find(std::string_view label_or_id) const {
  for (const ProbedPart& part : parts_) {
    if (part.label == label_or_id) return &part;
  }
  for (const ProbedPart& part : parts_) {
    if (part.id == label_or_id) return &part;
    const std::size_t slash = part.id.rfind('/');
    if (slash != std::string::npos && part.id.substr(slash + 1) == label_or_id) return &part;
  }
  return nullptr;
}

std::optional<Point> UiProbe::find_centre(std::string_view label_or_id) const {
  const ProbedPart* part = find(label_or_id);
  if (part == nullptr) return std::nullopt;
  return part->rect.centre();
}

bool UiProbe::shows(std::string_view text) const {
  for (const ProbedText& each : texts_) {
    if (each.text.find(text) != std::string::npos) return true;
  }
  return false;
}

}  // namespace redress::screens
