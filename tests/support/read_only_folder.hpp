// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A folder that takes nothing, whoever runs the tests: root, whom rights do not stop, is somebody
// else for as long.
#pragma once

#include <unistd.h>

#include <filesystem>
#include <stdexcept>
#include <string>
#include <utility>

namespace redress::tests {

class ReadOnlyFolder {
 public:
  /// `looked_into`: what is in it can be listed; the folders above it can in any case. Throws
  /// std::runtime_error where a file can be made in it all the same.
  explicit ReadOnlyFolder(std::string path, bool looked_into = true)
      : path_(std::move(path)), user_(geteuid()) {
    constexpr auto kReads = static_cast<std::filesystem::perms>(0555);
    std::filesystem::permissions(path_, looked_into ? kReads : std::filesystem::perms::none);
    constexpr uid_t kNobody = 65534;
    if (user_ == 0 && seteuid(kNobody) != 0) throw std::runtime_error("cannot be somebody else");
    if (access_as_now()) throw std::runtime_error("the folder takes files");
  }
  ~ReadOnlyFolder() {
    if (user_ == 0) (void)!seteuid(user_);
    std::error_code ignored;
    std::filesystem::permissions(path_, std::filesystem::perms::owner_all, ignored);
  }
  ReadOnlyFolder(const ReadOnlyFolder&) = delete;
  ReadOnlyFolder& operator=(const ReadOnlyFolder&) = delete;

 private:
  [[nodiscard]] bool access_as_now() const { return eaccess(path_.c_str(), W_OK) == 0; }

  std::string path_;
  uid_t user_;
};

}  // namespace redress::tests
