// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/store.hpp"

#include <dlfcn.h>
#include <soci/soci.h>
#include <sys/stat.h>

#include <algorithm>
#include <array>
#include <exception>
#include <stdexcept>
#include <utility>

#include "sim/basics/content_hash.hpp"

// The door of SOCI's back end; its header would bring in that of the database.
extern "C" {
const soci::backend_factory* factory_sqlite3();
}

namespace redress::assessment {

namespace {

constexpr std::string_view kPostgres = "postgresql://";

// Version n is reached by the statements of place n - 1. Never changed, only added to.
constexpr std::array<std::string_view, 4> kFirst{
    "CREATE TABLE kept_station (id VARCHAR(64) PRIMARY KEY, circuit VARCHAR(128) NOT NULL, "
    "candidate VARCHAR(400) NOT NULL, station INTEGER NOT NULL, workstation VARCHAR(400) NOT NULL, "
    "whole INTEGER NOT NULL, used_ms INTEGER NOT NULL, received_at VARCHAR(100) NOT NULL)",
    "CREATE TABLE kept_content (id VARCHAR(64) PRIMARY KEY REFERENCES kept_station (id), "
    "content TEXT NOT NULL)",
    "CREATE TABLE score (id VARCHAR(64) PRIMARY KEY REFERENCES kept_station (id), "
    "total DOUBLE PRECISION NOT NULL, unsafe INTEGER NOT NULL, sheet TEXT NOT NULL)",
    "CREATE INDEX kept_station_by_circuit ON kept_station (circuit, candidate, station)"};
// What is kept is encrypted: a server that tries to compress it only loses time.
constexpr std::string_view kSecondPostgres =
    "ALTER TABLE kept_content ALTER COLUMN content SET STORAGE EXTERNAL";
constexpr int kVersion = 2;

/// Fetched when a server is named: its client brings two dozen libraries along, which would cost
/// every start of the program a third of its first frame. Throws what to tell.
const soci::backend_factory& find_postgresql() {
  constexpr const char* kLibrary = "libsoci_postgresql.so.4.0";
  void* const library = dlopen(kLibrary, RTLD_NOW);  // stays for as long as the program runs
  void* const door = library == nullptr ? nullptr : dlsym(library, "factory_postgresql");
  if (door == nullptr) {
    throw std::runtime_error(std::string(kLibrary) +
                             " is not installed; allowed: a SQLite file, or install it");
  }
  return *reinterpret_cast<const soci::backend_factory* (*)()>(door)();
}

std::string first_line(const std::string& text) { return text.substr(0, text.find('\n')); }

}  // namespace

struct Store::Inside {
  soci::session sql;
  StatementHook hook;
  bool postgres = false;
  std::string path;  // of a SQLite store
  std::optional<std::pair<dev_t, ino_t>> file;

  // Which file the path leads to; none: to none.
  [[nodiscard]] std::optional<std::pair<dev_t, ino_t>> find_file() const {
    struct stat found {};
    if (::stat(path.c_str(), &found) != 0) return std::nullopt;
    return std::pair{found.st_dev, found.st_ino};
  }

  void tell(std::string_view statement) const {
    if (hook) hook(statement);
  }
  void run(std::string_view statement) {
    tell(statement);
    sql << std::string(statement);
  }
  // A writer waits for its turn instead of failing in the middle.
  void begin() { run(postgres ? "BEGIN" : "BEGIN IMMEDIATE"); }
  void commit() { run("COMMIT"); }
  void roll_back() noexcept {
    try {
      sql << "ROLLBACK";
    } catch (const std::exception&) {
      // The connection is gone, and what it had not committed with it.
    }
  }

  /// Everything that `work` does, or nothing of it.
  template <class Work>
  std::optional<Problem> transact(Work work) {
    try {
      begin();
      work();
      commit();
      // A file that was removed or replaced takes all that is written, and nobody finds it again.
      if (!postgres && file != find_file()) {
        return Problem{"", "the store's file was removed or replaced while it was open: " + path +
                               " does not have it; hand it in again"};
      }
      return std::nullopt;
    } catch (const std::exception& e) {
      roll_back();
      return Problem{"",
                     "the store did not take it, and has nothing of it: " + first_line(e.what())};
    }
  }

  std::optional<Problem> migrate();
  void add(const HandIn& station, const StationVerdict& verdict, Received& received);
};

std::optional<Problem> Store::Inside::migrate() {
  int version = 0;
  const auto problem = transact([&] {
    // Two that open an empty store at once take turns.
    if (postgres) run("SELECT pg_advisory_xact_lock(7233771)");
    run("CREATE TABLE IF NOT EXISTS schema_version (version INTEGER NOT NULL)");
    tell("SELECT max(version)");
    soci::indicator found = soci::i_null;
    sql << "SELECT max(version) FROM schema_version", soci::into(version, found);
    if (found != soci::i_ok) version = 0;
    if (version >= kVersion) return;
    if (version < 1) {
      for (const std::string_view statement : kFirst) run(statement);
    }
    if (version < 2 && postgres) run(kSecondPostgres);
    tell("INSERT INTO schema_version");
    const int now = kVersion;
    sql << "INSERT INTO schema_version (version) VALUES (:v)", soci::use(now);
  });
  if (problem) return problem;
  if (version > kVersion) {
    return Problem{"", "was made by a newer version (" + std::to_string(version) +
                           "; this one knows " + std::to_string(kVersion) +
                           "). It was left untouched."};
  }
  return std::nullopt;
}

void Store::Inside::add(const HandIn& station, const StationVerdict& verdict, Received& received) {
  const std::string id = calc_hash(station.content);
  const std::string circuit = to_text(verdict.identity.circuit);
  const int number = static_cast<int>(verdict.identity.station);
  const int whole = verdict.intact() ? 1 : 0;
  const int used_ms = static_cast<int>(verdict.used_ms);
  tell("INSERT INTO kept_station");
  soci::statement insert =
      (sql.prepare << "INSERT INTO kept_station (id, circuit, candidate, station, workstation, "
                      "whole, used_ms, received_at) VALUES (:id, :circuit, :candidate, :station, "
                      ":workstation, :whole, :used, :at) ON CONFLICT (id) DO NOTHING",
       soci::use(id), soci::use(circuit), soci::use(verdict.identity.candidate), soci::use(number),
       soci::use(verdict.identity.workstation), soci::use(whole), soci::use(used_ms),
       soci::use(station.at));
  insert.execute(true);
  if (insert.get_affected_rows() == 0) {
    ++received.already_there;
    received.is_new.push_back(false);
    return;
  }
  tell("INSERT INTO kept_content");
  sql << "INSERT INTO kept_content (id, content) VALUES (:id, :content)", soci::use(id),
      soci::use(station.content);
  ++received.added;
  received.is_new.push_back(true);
}

Store::Store(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Store::Store(Store&&) noexcept = default;
Store& Store::operator=(Store&&) noexcept = default;
Store::~Store() = default;

Result<Store> Store::open(const std::string& where, StatementHook hook) {
  auto inside = std::make_unique<Inside>();
  inside->postgres = where.starts_with(kPostgres);
  inside->hook = std::move(hook);
  try {
    if (inside->postgres) {
      inside->sql.open(find_postgresql(), where);
      // "already exists, skipping" is nobody's concern.
      inside->run("SET client_min_messages TO error");
    } else {
      if (where.find('"') != std::string::npos || where.starts_with(' ')) {
        return Problems{{"",
                         "the store's path has a quotation mark or begins with a space; allowed: "
                         "a path without"}};
      }
      inside->sql.open(*factory_sqlite3(), "db=\"" + where + "\" timeout=60");
      // What is kept is long: small pages would be written one by one. Of a new store alone.
      inside->run("PRAGMA page_size = 32768");
      // Readers do not wait for writers; what was committed survives a power cut.
      inside->run("PRAGMA journal_mode = WAL");
      inside->run("PRAGMA synchronous = FULL");
      inside->run("PRAGMA foreign_keys = ON");
    }
  } catch (const std::exception& e) {
    return Problems{{"", "the store cannot be reached: " + first_line(e.what())}};
  }
  if (!inside->postgres) {
    inside->path = where;
    inside->file = inside->find_file();
  }
  if (auto problem = inside->migrate()) return Problems{*problem};
  return Store(std::move(inside));
}

Result<Received> Store::hand_in(std::span<const HandIn> stations) {
  std::vector<StationVerdict> verdicts;
  Problems problems;
  for (std::size_t i = 0; i < stations.size(); ++i) {
    verdicts.push_back(verify_station(stations[i].content));
    const StationVerdict& v = verdicts.back();
    if (!v.intact() && !(v.standing == Standing::cut_short && v.good_lines > 0)) {
      problems.push_back({"station " + std::to_string(i + 1), v.message});
    }
  }
  if (!problems.empty()) return problems;
  Received received;
  const auto problem = inside_->transact([&] {
    received = {};
    for (std::size_t i = 0; i < stations.size(); ++i) {
      inside_->add(stations[i], verdicts[i], received);
    }
  });
  if (problem) return Problems{*problem};
  return received;
}

Result<std::vector<StoredStation>> Store::list(const std::string& circuit) {
  std::vector<StoredStation> all;
  try {
    StoredStation s;
    int station = 0;
    int whole = 0;
    int used_ms = 0;
    inside_->tell("SELECT FROM kept_station");
    soci::statement select =
        (inside_->sql.prepare
             << "SELECT id, circuit, candidate, station, workstation, whole, used_ms, received_at "
                "FROM kept_station WHERE circuit = :c ORDER BY candidate, station, id",
         soci::use(circuit), soci::into(s.id), soci::into(s.circuit), soci::into(s.candidate),
         soci::into(station), soci::into(s.workstation), soci::into(whole), soci::into(used_ms),
         soci::into(s.at));
    select.execute();
    while (select.fetch()) {
      s.station = static_cast<std::size_t>(station);
      s.whole = whole != 0;
      s.used_ms = used_ms;
      all.push_back(s);
    }
  } catch (const std::exception& e) {
    return Problems{{"", "the store cannot be read: " + first_line(e.what())}};
  }
  return all;
}

Result<std::string> Store::read_content(const std::string& id) {
  try {
    std::string content;
    inside_->tell("SELECT FROM kept_content");
    inside_->sql << "SELECT content FROM kept_content WHERE id = :id", soci::use(id),
        soci::into(content);
    if (!inside_->sql.got_data()) return Problems{{"", "the store has no station " + id}};
    return content;
  } catch (const std::exception& e) {
    return Problems{{"", "the store cannot be read: " + first_line(e.what())}};
  }
}

std::optional<Problem> Store::put_scores(std::span<const StoredScore> scores) {
  std::optional<Problem> refused;
  const auto problem = inside_->transact([&] {
    for (const StoredScore& score : scores) {
      const int unsafe = score.unsafe ? 1 : 0;
      inside_->tell("INSERT INTO score");
      soci::statement insert =
          (inside_->sql.prepare << "INSERT INTO score (id, total, unsafe, sheet) VALUES (:id, :t, "
                                   ":u, :s) ON CONFLICT (id) DO NOTHING",
           soci::use(score.id), soci::use(score.total), soci::use(unsafe), soci::use(score.sheet));
      insert.execute(true);
      if (insert.get_affected_rows() > 0) continue;
      std::string sheet;
      inside_->tell("SELECT sheet FROM score");
      inside_->sql << "SELECT sheet FROM score WHERE id = :id", soci::use(score.id),
          soci::into(sheet);
      if (sheet != score.sheet) refused = Problem{"", "has another score for station " + score.id};
    }
  });
  return problem ? problem : refused;
}

Result<std::vector<StoredScore>> Store::list_scores(const std::string& circuit) {
  std::vector<StoredScore> all;
  try {
    StoredScore s;
    int unsafe = 0;
    inside_->tell("SELECT FROM score");
    soci::statement select =
        (inside_->sql.prepare << "SELECT score.id, total, unsafe, sheet FROM score JOIN "
                                 "kept_station ON kept_station.id = score.id WHERE circuit = :c "
                                 "ORDER BY candidate, station, score.id",
         soci::use(circuit), soci::into(s.id), soci::into(s.total), soci::into(unsafe),
         soci::into(s.sheet));
    select.execute();
    while (select.fetch()) {
      s.unsafe = unsafe != 0;
      all.push_back(s);
    }
  } catch (const std::exception& e) {
    return Problems{{"", "the store cannot be read: " + first_line(e.what())}};
  }
  return all;
}

std::vector<std::pair<std::string, std::string>> find_doubles(
    std::span<const StoredStation> stations) {
  std::vector<std::pair<std::string, std::string>> doubles;
  for (std::size_t i = 0; i < stations.size(); ++i) {
    for (std::size_t j = i + 1; j < stations.size(); ++j) {
      const StoredStation& a = stations[i];
      const StoredStation& b = stations[j];
      if (a.candidate != b.candidate || a.station != b.station) break;  // in order
      doubles.emplace_back(a.id, b.id);
    }
  }
  return doubles;
}

}  // namespace redress::assessment
