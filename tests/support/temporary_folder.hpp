// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A folder of a test's own: made new, with a name that no other process has, and gone afterwards.
// Tests run beside each other, so a folder with a fixed name would be taken away under somebody's
// hands.
#pragma once

#include <cstddef>
#include <cstdlib>
#include <filesystem>
#include <iterator>
#include <stdexcept>
#include <string>
#include <system_error>

namespace redress::tests {

class TemporaryFolder {
 public:
  /// Throws std::runtime_error if no folder can be made.
  TemporaryFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "redress-XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary folder");
    path_ = name;
  }
  ~TemporaryFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;

  [[nodiscard]] const std::string& path() const { return path_; }
  /// The path of something in it.
  [[nodiscard]] std::string operator/(const std::string& name) const { return path_ + "/" + name; }
  /// How many things lie in it.
  [[nodiscard]] std::size_t count() const {
    return static_cast<std::size_t>(std::distance(std::filesystem::directory_iterator(path_),
                                                  std::filesystem::directory_iterator()));
  }

 private:
  std::string path_;
};

}  // namespace redress::tests
