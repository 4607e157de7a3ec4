// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Free words: put together with the same between each two, and made ready to be searched.
#pragma once

#include <string>
#include <string_view>
#include <utility>

namespace redress::findings {

class Phrases {
 public:
  /// `between` outlives this.
  explicit Phrases(std::string_view between) : between_(between) {}
  /// An empty part is none.
  Phrases& add(std::string_view part) {
    if (part.empty()) return *this;
    if (!text_.empty()) text_ += between_;
    text_ += part;
    return *this;
  }
  [[nodiscard]] const std::string& text() const { return text_; }
  [[nodiscard]] std::string take() { return std::move(text_); }

 private:
  std::string_view between_;
  std::string text_;
};

/// " word word " in lower case, to be searched: what is no letter or digit parts words.
std::string fold_words(std::string_view text);

}  // namespace redress::findings
