// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// One prepared statement of SQLite: values go in by place from 1, columns come out from 0. The
// first thing that goes wrong is kept; nothing happens afterwards.
#pragma once

#include <sqlite3.h>

#include <cstdint>
#include <string>
#include <string_view>

namespace redress::progress {

class Statement {
 public:
  Statement(sqlite3* file, std::string_view sql) {
    result_ = sqlite3_prepare_v2(file, sql.data(), static_cast<int>(sql.size()), &it_, nullptr);
  }
  ~Statement() { sqlite3_finalize(it_); }
  Statement(const Statement&) = delete;
  Statement& operator=(const Statement&) = delete;

  Statement& bind(int place, std::int64_t value) {
    return keep(result_ == SQLITE_OK ? sqlite3_bind_int64(it_, place, value) : result_);
  }
  Statement& bind(int place, double value) {
    return keep(result_ == SQLITE_OK ? sqlite3_bind_double(it_, place, value) : result_);
  }
  Statement& bind(int place, const std::string& value) {
    return keep(result_ == SQLITE_OK
                    ? sqlite3_bind_text(it_, place, value.data(), static_cast<int>(value.size()),
                                        SQLITE_TRANSIENT)
                    : result_);
  }

  /// True: a row is there to be read.
  bool next() {
    if (result_ != SQLITE_OK && result_ != SQLITE_ROW) return false;
    result_ = sqlite3_step(it_);
    return result_ == SQLITE_ROW;
  }
  /// For what gives no rows. True: done.
  bool run() {
    next();
    const bool done = result_ == SQLITE_DONE;
    if (done) {
      sqlite3_reset(it_);
      result_ = SQLITE_OK;
    }
    return done;
  }
  /// Everything went well so far.
  [[nodiscard]] bool ok() const {
    return result_ == SQLITE_OK || result_ == SQLITE_ROW || result_ == SQLITE_DONE;
  }

  [[nodiscard]] std::int64_t integer(int column) const { return sqlite3_column_int64(it_, column); }
  [[nodiscard]] double number(int column) const { return sqlite3_column_double(it_, column); }
  [[nodiscard]] std::string text(int column) const {
    const unsigned char* const bytes = sqlite3_column_text(it_, column);
    if (bytes == nullptr) return {};
    const auto size = static_cast<std::size_t>(sqlite3_column_bytes(it_, column));
    return {bytes, bytes + size};
  }

 private:
  Statement& keep(int result) {
    result_ = result;
    return *this;
  }

  sqlite3_stmt* it_ = nullptr;
  int result_ = SQLITE_OK;
};

}  // namespace redress::progress
