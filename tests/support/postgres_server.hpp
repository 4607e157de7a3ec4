// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A PostgreSQL server of a test's own, in a temporary folder, reached through a socket there. The
// server refuses to be run by root: then it is run as the user that its package made.
#pragma once

#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <string>

#include "tests/support/temporary_folder.hpp"

namespace redress::tests {

class PostgresServer {
 public:
  PostgresServer() {
    for (const auto& entry : std::filesystem::directory_iterator("/usr/lib/postgresql")) {
      if (std::filesystem::exists(entry.path() / "bin/initdb")) bin_ = entry.path() / "bin";
    }
    if (bin_.empty()) return;
    if (::geteuid() == 0) {
      as_ = "runuser -u postgres -- ";
      run("chown postgres '" + folder_.path() + "'");
    }
    const std::string data = folder_ / "data";
    if (run(as_ + "'" + bin_ + "/initdb' -D '" + data + "' -A trust -U redress -E UTF8")) start();
  }
  ~PostgresServer() { stop(); }
  PostgresServer(const PostgresServer&) = delete;
  PostgresServer& operator=(const PostgresServer&) = delete;

  /// Whether the package is there (it is in tests/support/packages.txt).
  [[nodiscard]] bool installed() const { return !bin_.empty(); }
  [[nodiscard]] bool running() const { return running_; }
  [[nodiscard]] std::string address() const {
    return "postgresql:///postgres?user=redress&host=" + folder_.path();
  }
  void start() {
    running_ = run(as_ + "'" + bin_ + "/pg_ctl' -D '" + (folder_ / "data") + "' -w -l '" +
                   (folder_ / "log") + "' -o \"-c listen_addresses='' -k '" + folder_.path() +
                   "'\" start");
  }
  /// As a cut power line would: nothing is written any more.
  void stop() {
    if (running_) {
      run(as_ + "'" + bin_ + "/pg_ctl' -D '" + (folder_ / "data") + "' -m immediate stop");
    }
    running_ = false;
  }

 private:
  bool run(const std::string& command) const {
    return std::system(("cd / && " + command + " >/dev/null 2>&1").c_str()) == 0;
  }

  TemporaryFolder folder_;
  std::string bin_;
  std::string as_;
  bool running_ = false;
};

}  // namespace redress::tests
