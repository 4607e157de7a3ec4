// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Whole files in, whole files out. An output appears complete or not at all: it is written to a
// temporary file beside its place and renamed at the end. The one exception, a record in the
// making, is written by sim/record/record_writer.hpp. Sizes in bytes.
#pragma once

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <optional>
#include <string>
#include <string_view>

#include "sim/basics/problem.hpp"

namespace redress {

/// No case, list of acts or record comes near this: an hour's record has about 5 MB.
inline constexpr std::size_t kLargestFile = 256U * 1024U * 1024U;

/// All bytes of a file. Problems (place "", the file as a whole): it cannot be opened or read, it
/// is a folder, it has more than `largest` bytes.
Result<std::string> read_file(const std::string& path, std::size_t largest = kLargestFile);

/// What a committed file is safe from. Waiting for the disk takes about as long as writing a trace,
/// which can be computed again.
enum class Durability : std::uint8_t { power_cut, crash };

/// A file that appears at its path only when commit() succeeds. Until then a temporary file grows
/// beside it; whatever stood at the path stays. A path that is not a regular file (a pipe, a
/// device) is written to directly, as it cannot be replaced.
class WholeFile {
 public:
  explicit WholeFile(std::string path, Durability durability = Durability::power_cut);
  ~WholeFile();
  WholeFile(const WholeFile&) = delete;
  WholeFile& operator=(const WholeFile&) = delete;

  /// Appends. After the first failure nothing more is written and commit() will refuse.
  void write(std::string_view bytes);
  /// Puts the file at its path. Returns the first problem met, now or earlier;
  /// then nothing appears.
  [[nodiscard]] std::optional<Problem> commit();
  /// The first problem so far.
  [[nodiscard]] const std::optional<Problem>& problem() const { return problem_; }

 private:
  void fail(const char* what, int error);
  void discard();

  std::string path_;
  Durability durability_;
  std::string temporary_;  ///< empty: written directly
  std::FILE* stream_ = nullptr;
  std::optional<Problem> problem_;
};

/// Writes the file whole or not at all; the problem if it did not work.
[[nodiscard]] std::optional<Problem> write_whole_file(const std::string& path,
                                                      std::string_view bytes);

/// What the system says about an error number, as in "No space left on device".
std::string system_message(int error);

}  // namespace redress
