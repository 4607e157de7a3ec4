// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/progress/store.hpp"

#include <filesystem>
#include <system_error>
#include <utility>

#include <fmt/format.h>

#include "sim/progress/statement.hpp"

namespace redress::progress {

namespace {

// Kept in the file's header: "Rdss".
constexpr int kApplication = 0x52647373;

constexpr std::string_view kTables = R"(
  CREATE TABLE examination(id INTEGER PRIMARY KEY, at_s INTEGER NOT NULL, learner TEXT NOT NULL,
    case_key TEXT NOT NULL, record TEXT NOT NULL, mode TEXT NOT NULL, known INTEGER NOT NULL,
    total REAL NOT NULL);
  CREATE TABLE mark(examination INTEGER NOT NULL REFERENCES examination(id), item TEXT NOT NULL,
    marks REAL NOT NULL, max REAL NOT NULL, PRIMARY KEY(examination, item)) WITHOUT ROWID;
  CREATE TABLE drill(id INTEGER PRIMARY KEY, at_s INTEGER NOT NULL, learner TEXT NOT NULL,
    seed INTEGER NOT NULL, magnification REAL NOT NULL, threshold_pd REAL NOT NULL,
    low_pd REAL NOT NULL, high_pd REAL NOT NULL);
  CREATE TABLE answer(drill INTEGER NOT NULL REFERENCES drill(id), number INTEGER NOT NULL,
    size_pd REAL NOT NULL, way INTEGER NOT NULL, second INTEGER NOT NULL,
    said_pd REAL NOT NULL, said_way INTEGER NOT NULL, said_second INTEGER NOT NULL,
    PRIMARY KEY(drill, number)) WITHOUT ROWID;
  CREATE TABLE shown(learner TEXT NOT NULL, case_key TEXT NOT NULL,
    PRIMARY KEY(learner, case_key)) WITHOUT ROWID;
)";

bool execute(sqlite3* file, const std::string& sql) {
  return sqlite3_exec(file, sql.c_str(), nullptr, nullptr, nullptr) == SQLITE_OK;
}

std::int64_t read_pragma(sqlite3* file, std::string_view pragma, bool& well) {
  Statement s(file, fmt::format("PRAGMA {}", pragma));
  well = well && s.next();
  return well ? s.integer(0) : 0;
}

Problem describe(sqlite3* file) {
  const int code = sqlite3_errcode(file);
  if (code == SQLITE_FULL) {
    return {"", "Disk full: this is kept in memory, and entered as soon as there is room."};
  }
  return {"", fmt::format("Your progress cannot be written ({}). This is kept in memory.",
                          sqlite3_errmsg(file))};
}

Problems refuse(const std::string& path, std::string_view why) {
  return {{"", fmt::format("Your progress, “{}”: {} It was left untouched.", path, why)}};
}

/// Why the file must be left alone; empty: it is ours, or there is nothing in it yet.
std::string check(sqlite3* file) {
  bool well = true;
  const std::int64_t application = read_pragma(file, "application_id", well);
  const std::int64_t version = read_pragma(file, "user_version", well);
  const std::string damaged = "it is damaged, or no file of progress.";
  if (!well) return damaged;
  Statement any(file, "SELECT count(*) FROM sqlite_master");
  if (!any.next()) return damaged;
  if (any.integer(0) == 0 && application == 0) return "";
  if (application != kApplication) return "it is no file of progress.";
  if (version > kStoreVersion) {
    return fmt::format("it was written by a newer version ({}; this one reads {}).", version,
                       kStoreVersion);
  }
  Statement whole(file, "PRAGMA integrity_check(1)");
  if (!whole.next() || whole.text(0) != "ok") return damaged;
  return "";
}

/// Everything between is entered whole or not at all.
class Transaction {
 public:
  explicit Transaction(sqlite3* file) : file_(file), open_(execute(file, "BEGIN IMMEDIATE")) {}
  ~Transaction() {
    if (open_) execute(file_, "ROLLBACK");
  }
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;
  [[nodiscard]] bool ok() const { return open_; }
  bool commit() {
    if (!open_ || !execute(file_, "COMMIT")) return false;
    open_ = false;
    return true;
  }

 private:
  sqlite3* file_;
  bool open_;
};

bool insert_marks(sqlite3* file, std::int64_t examination, const ExaminationEntry& entry) {
  Statement mark(file, "INSERT INTO mark VALUES(?, ?, ?, ?)");
  for (const ItemMark& each : entry.marks) {
    mark.bind(1, examination).bind(2, each.item).bind(3, each.marks).bind(4, each.max);
    if (!mark.run()) return false;
  }
  return true;
}

bool insert_answers(sqlite3* file, std::int64_t drill, const DrillEntry& entry) {
  Statement answer(file, "INSERT INTO answer VALUES(?, ?, ?, ?, ?, ?, ?, ?)");
  std::int64_t number = 0;
  for (const drill::Answered& a : entry.answers) {
    answer.bind(1, drill).bind(2, ++number).bind(3, a.shown.size_pd);
    answer.bind(4, static_cast<std::int64_t>(a.shown.way));
    answer.bind(5, std::int64_t{a.shown.second}).bind(6, a.answer.said_pd);
    answer.bind(7, static_cast<std::int64_t>(a.answer.way));
    answer.bind(8, std::int64_t{a.answer.second});
    if (!answer.run()) return false;
  }
  return true;
}

drill::Way to_way(std::int64_t value) {
  return value >= 0 && value <= 3 ? static_cast<drill::Way>(value) : drill::Way::in;
}

}  // namespace

void Store::Close::operator()(sqlite3* file) const { sqlite3_close(file); }

Result<Store> Store::open(const std::string& path) {
  sqlite3* raw = nullptr;
  File file;
  // First as it is, without a right to change it. What was cut off in the middle has to be put
  // right by SQLite before anything can be read.
  std::error_code ignored;
  const bool cut_off = std::filesystem::exists(path + "-journal", ignored);
  if (!cut_off) {
    const int opened = sqlite3_open_v2(path.c_str(), &raw, SQLITE_OPEN_READONLY, nullptr);
    file.reset(raw);
    const std::string why = opened == SQLITE_OK ? check(file.get()) : "";
    if (!why.empty()) return refuse(path, why);
  }
  raw = nullptr;
  const int opened =
      sqlite3_open_v2(path.c_str(), &raw, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, nullptr);
  file.reset(raw);
  if (opened != SQLITE_OK) return refuse(path, "it cannot be opened.");
  // Another window of this program may be writing.
  constexpr int kPatienceMs = 2000;
  sqlite3_busy_timeout(file.get(), kPatienceMs);
  const std::string why = check(file.get());
  if (!why.empty()) return refuse(path, why);
  bool well = execute(file.get(), "PRAGMA foreign_keys = ON; PRAGMA synchronous = FULL");
  if (read_pragma(file.get(), "user_version", well) == 0) {
    Transaction all(file.get());
    well = well && all.ok() && execute(file.get(), std::string(kTables)) &&
           execute(file.get(), fmt::format("PRAGMA application_id = {}", kApplication)) &&
           execute(file.get(), fmt::format("PRAGMA user_version = {}", kStoreVersion)) &&
           all.commit();
  }
  if (!well) return Problems{describe(file.get())};
  return Store(std::move(file));
}

std::optional<Problem> Store::add(const ExaminationEntry& entry) {
  sqlite3* const file = file_.get();
  Transaction all(file);
  Statement head(file,
                 "INSERT INTO examination(at_s, learner, case_key, record, mode, known, total) "
                 "VALUES(?, ?, ?, ?, ?, ?, ?)");
  head.bind(1, entry.at_s).bind(2, entry.learner).bind(3, entry.case_key).bind(4, entry.record);
  head.bind(5, entry.mode).bind(6, std::int64_t{entry.known}).bind(7, entry.total);
  const bool done = all.ok() && head.run() &&
                    insert_marks(file, sqlite3_last_insert_rowid(file), entry) && all.commit();
  if (!done) return describe(file);
  return std::nullopt;
}

std::optional<Problem> Store::add(const DrillEntry& entry) {
  sqlite3* const file = file_.get();
  Transaction all(file);
  Statement head(file,
                 "INSERT INTO drill(at_s, learner, seed, magnification, threshold_pd, low_pd, "
                 "high_pd) VALUES(?, ?, ?, ?, ?, ?, ?)");
  head.bind(1, entry.at_s).bind(2, entry.learner).bind(3, static_cast<std::int64_t>(entry.seed));
  head.bind(4, entry.magnification).bind(5, entry.threshold.pd);
  head.bind(6, entry.threshold.low).bind(7, entry.threshold.high);
  const bool done = all.ok() && head.run() &&
                    insert_answers(file, sqlite3_last_insert_rowid(file), entry) && all.commit();
  if (!done) return describe(file);
  return std::nullopt;
}

std::optional<Problem> Store::mark_shown(const std::string& learner, const std::string& case_key) {
  Statement s(file_.get(), "INSERT OR IGNORE INTO shown VALUES(?, ?)");
  s.bind(1, learner).bind(2, case_key);
  if (!s.run()) return describe(file_.get());
  return std::nullopt;
}

bool Store::was_shown(const std::string& learner, const std::string& case_key) const {
  Statement s(file_.get(),
              "SELECT 1 FROM shown WHERE learner = ?1 AND case_key = ?2 UNION ALL "
              "SELECT 1 FROM examination WHERE learner = ?1 AND case_key = ?2");
  s.bind(1, learner).bind(2, case_key);
  return s.next();
}

Result<History> Store::read(const std::string& learner) const {
  History history;
  Statement head(file_.get(),
                 "SELECT id, at_s, case_key, record, mode, known, total FROM examination "
                 "WHERE learner = ? ORDER BY at_s, id");
  head.bind(1, learner);
  while (head.next()) {
    ExaminationEntry e{
        head.integer(1), learner, head.text(2), head.text(3), head.text(4), head.integer(5) != 0,
        head.number(6),  {}};
    Statement mark(file_.get(),
                   "SELECT item, marks, max FROM mark WHERE examination = ? ORDER BY item");
    mark.bind(1, head.integer(0));
    while (mark.next()) e.marks.push_back({mark.text(0), mark.number(1), mark.number(2)});
    if (!mark.ok()) return Problems{describe(file_.get())};
    history.examinations.push_back(std::move(e));
  }
  Statement drill(file_.get(),
                  "SELECT id, at_s, seed, magnification, threshold_pd, low_pd, high_pd FROM drill "
                  "WHERE learner = ? ORDER BY at_s, id");
  drill.bind(1, learner);
  while (drill.next()) {
    DrillEntry d{drill.integer(1),
                 learner,
                 static_cast<std::uint64_t>(drill.integer(2)),
                 drill.number(3),
                 {drill.number(4), drill.number(5), drill.number(6)},
                 {}};
    Statement answer(file_.get(),
                     "SELECT size_pd, way, second, said_pd, said_way, said_second FROM answer "
                     "WHERE drill = ? ORDER BY number");
    answer.bind(1, drill.integer(0));
    while (answer.next()) {
      d.answers.push_back({{answer.number(0), to_way(answer.integer(1)), answer.integer(2) != 0},
                           {answer.integer(5) != 0, to_way(answer.integer(4)), answer.number(3)}});
    }
    if (!answer.ok()) return Problems{describe(file_.get())};
    history.drills.push_back(std::move(d));
  }
  if (!head.ok() || !drill.ok()) return Problems{describe(file_.get())};
  return history;
}

void Store::limit_pages(int pages) {
  execute(file_.get(), fmt::format("PRAGMA max_page_count = {}", pages));
}

}  // namespace redress::progress
