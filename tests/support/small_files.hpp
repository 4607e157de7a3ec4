// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A full disk, as far as a program can tell: files that do not grow.
#pragma once

#include <sys/resource.h>

#include <csignal>

namespace redress::tests {

/// No file of this process grows beyond so many bytes, as long as it lives.
class SmallFiles {
 public:
  explicit SmallFiles(rlim_t bytes) {
    handler_ = std::signal(SIGXFSZ, SIG_IGN);
    getrlimit(RLIMIT_FSIZE, &before_);
    rlimit small = before_;
    small.rlim_cur = bytes;
    setrlimit(RLIMIT_FSIZE, &small);
  }
  ~SmallFiles() {
    setrlimit(RLIMIT_FSIZE, &before_);
    std::signal(SIGXFSZ, handler_);
  }
  SmallFiles(const SmallFiles&) = delete;
  SmallFiles& operator=(const SmallFiles&) = delete;

 private:
  rlimit before_{};
  void (*handler_)(int) = nullptr;
};

}  // namespace redress::tests
