// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A case while somebody writes it: the document as it stands in the file, one change after another,
// each with a name and each taken back and done again. What is not written stays unwritten, so that
// defaults stay defaults; the order of keys is the author's.
#pragma once

#include <cstddef>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/basics/problem.hpp"
#include "sim/cases/case.hpp"

namespace redress {

class CaseDraft {
 public:
  /// Text of a case file. What is wrong inside stays to be mended (problems()); refused is what is
  /// no JSON object, not of this format, or of a newer version.
  static Result<CaseDraft> read(std::string_view text);
  /// A new case: only what is required.
  static CaseDraft begin(std::string_view title);

  /// As written at this JSON pointer (RFC 6901); null: not written.
  [[nodiscard]] const nlohmann::ordered_json* find(std::string_view pointer) const;
  /// What is in force there, written or default; null: nothing, or the case cannot be read.
  [[nodiscard]] nlohmann::json value_in_force(std::string_view pointer) const;

  /// Writes a value; objects on the way are made. Changes of one place with the same name that
  /// follow one another are one change (typing); `settle` ends that.
  void set(std::string_view pointer, nlohmann::ordered_json value, std::string_view name);
  /// Back to the default: the key goes, and so do objects that it leaves empty.
  void clear(std::string_view pointer, std::string_view name);
  void settle() { settled_ = true; }
  /// All of another document (of the disk, of an earlier day) as one change.
  void take(nlohmann::ordered_json document, std::string_view name);

  /// Names of the change that would be taken back, or done again; empty: none.
  [[nodiscard]] std::string_view undo_name() const;
  [[nodiscard]] std::string_view redo_name() const;
  void undo();
  void redo();

  /// The case, or everything that is wrong with it, each with its place.
  [[nodiscard]] const Result<Case>& content() const { return content_; }
  /// Counts up with every change, undo and redo.
  [[nodiscard]] std::size_t revision() const { return revision_; }

  /// The file: unchanged text byte for byte, else in the layout of write_case_document.
  [[nodiscard]] std::string text() const;
  /// What stands on disk from now on.
  void mark_saved();
  [[nodiscard]] bool is_changed() const { return document_ != saved_; }
  [[nodiscard]] const nlohmann::ordered_json& document() const { return document_; }

 private:
  struct Change {
    std::string name;
    std::string place;
    nlohmann::ordered_json before;  // whole documents: a case has a few kilobytes
    nlohmann::ordered_json after;
  };

  CaseDraft(nlohmann::ordered_json document, std::string text);
  void change(nlohmann::ordered_json after, std::string_view place, std::string_view name);
  void reread();

  nlohmann::ordered_json document_;
  nlohmann::ordered_json saved_;
  std::string saved_text_;
  std::vector<Change> changes_;
  std::size_t done_ = 0;  // of changes_
  bool settled_ = true;
  std::size_t revision_ = 0;
  Result<Case> content_;
};

/// The layout of case files: two spaces a level; what holds no objects and no lists of words stands
/// on one line if it fits into 98 columns.
std::string write_case_document(const nlohmann::ordered_json& document);

}  // namespace redress
