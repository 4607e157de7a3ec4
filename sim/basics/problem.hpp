// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What is wrong with an input. Readers collect every problem instead of stopping at the first.
#pragma once

#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace redress {

struct Problem {
  std::string place;    ///< JSON pointer inside the file ("" = the file as a whole), or "line 12"
  std::string message;  ///< what is wrong, the value, what is allowed
  bool operator==(const Problem&) const = default;
};

using Problems = std::vector<Problem>;

/// A value, or all the reasons why there is none.
template <class T>
class Result {
 public:
  Result(T value) : content_(std::move(value)) {}  // NOLINT(google-explicit-constructor)
  Result(Problems problems)
      : content_(std::move(problems)) {}  // NOLINT(google-explicit-constructor)

  [[nodiscard]] bool ok() const { return content_.index() == 0; }
  explicit operator bool() const { return ok(); }
  [[nodiscard]] const T& value() const& { return std::get<0>(content_); }
  [[nodiscard]] T&& value() && { return std::get<0>(std::move(content_)); }
  [[nodiscard]] const Problems& problems() const { return std::get<1>(content_); }

 private:
  std::variant<T, Problems> content_;
};

}  // namespace redress
