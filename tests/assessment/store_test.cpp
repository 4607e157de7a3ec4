// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The store, each test against SQLite and against a real PostgreSQL server: everything handed in is
// there once, whatever fails in between.
#include <dlfcn.h>
#include <signal.h>
#include <soci/soci.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <filesystem>
#include <functional>
#include <optional>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

#include <catch2/catch.hpp>

#include "sim/assessment/hand_in_queue.hpp"
#include "sim/assessment/station_lines.hpp"
#include "sim/assessment/station_writer.hpp"
#include "sim/assessment/store.hpp"
#include "sim/basics/file.hpp"
#include "tests/support/postgres_server.hpp"
#include "tests/support/temporary_folder.hpp"

// The doors of SOCI's back ends, to write into a store past the code that is tested.
extern "C" {
const soci::backend_factory* factory_sqlite3();
}

using namespace redress;
using namespace redress::assessment;
using nlohmann::ordered_json;

namespace {

struct Day {
  CircuitKeys circuit;
  std::string id = to_text(circuit.id());
  WorkstationKey key = make_workstation_key(circuit, "desk 1");

  // A small kept station; what is kept in it is nobody's examination, which the store cannot know.
  [[nodiscard]] HandIn station(const std::string& candidate, std::size_t number,
                               const std::string& note = "") const {
    auto [stream, secret] = KeptStream::make(circuit.id());
    std::string chain;
    std::string text = make_signed_line(ordered_json{{"format", "redress-station"},
                                                     {"version", 1},
                                                     {"circuit", id},
                                                     {"workstation", key.workstation},
                                                     {"candidate", candidate},
                                                     {"station", number + 1},
                                                     {"key", to_hex_text(key.key.public_key())},
                                                     {"certificate", key.certificate},
                                                     {"secret", secret.secret},
                                                     {"header", secret.header}}
                                            .dump(),
                                        key.key, chain);
    text += make_signed_line(
        ordered_json{{"at_ms", 250}, {"kept", stream.push("lines " + note)}}.dump(), key.key,
        chain);
    text += make_signed_line(R"({"at_ms":500,"end":true})", key.key, chain);
    return {text, "2026-11-24T10:00:00Z"};
  }
};

Store opened(const std::string& where, StatementHook hook = {}) {
  Result<Store> store = Store::open(where, std::move(hook));
  if (!store) FAIL(store.problems().front().message);
  return std::move(store).value();
}

// Runs `test` with an empty store of each kind.
void with_both(const std::function<void(const std::string& where)>& test) {
  tests::TemporaryFolder folder;
  INFO("SQLite");
  test(folder / "results.sqlite");
  tests::PostgresServer server;
  if (!server.installed()) {
    WARN("postgresql is not installed: the store was tested with SQLite alone");
    return;
  }
  REQUIRE(server.running());
  INFO("PostgreSQL");
  test(server.address());
}

}  // namespace

namespace {

void run_past_the_store(const std::string& where, const std::vector<std::string>& statements) {
  soci::session sql;
  if (where.starts_with("postgresql://")) {
    // The store has opened it before, so that the library is there.
    void* const library = dlopen("libsoci_postgresql.so.4.0", RTLD_NOW);
    REQUIRE(library != nullptr);
    void* const door = dlsym(library, "factory_postgresql");
    sql.open(*reinterpret_cast<const soci::backend_factory* (*)()>(door)(), where);
  } else {
    sql.open(*factory_sqlite3(), "db=\"" + where + "\"");
  }
  for (const std::string& statement : statements) sql << statement;
}

}  // namespace

TEST_CASE("a store of an older version is brought up to date, a newer one is left untouched",
          "[assessment][store]") {
  with_both([](const std::string& where) {
    const Day day;
    { REQUIRE(opened(where).hand_in(std::vector{day.station("0417", 0)}).ok()); }
    // As version 1 left it: the one line of its own, and on a server the storage of old.
    run_past_the_store(where,
                       {"DELETE FROM schema_version", "INSERT INTO schema_version VALUES (1)"});
    if (where.starts_with("postgresql://")) {
      run_past_the_store(where,
                         {"ALTER TABLE kept_content ALTER COLUMN content SET STORAGE EXTENDED"});
    }
    int statements = 0;
    Store store = opened(where, [&](std::string_view statement) {
      if (statement.find("schema_version") != std::string_view::npos &&
          statement.starts_with("INSERT")) {
        ++statements;
      }
    });
    CHECK(statements == 1);
    CHECK(store.list(day.id).value().size() == 1);
    CHECK(store.hand_in(std::vector{day.station("0388", 1)}).value().added == 1);

    run_past_the_store(where, {"INSERT INTO schema_version VALUES (99)"});
    const Result<Store> newer = Store::open(where);
    REQUIRE_FALSE(newer.ok());
    CHECK(newer.problems()[0].message.find("newer version (99") != std::string::npos);
    run_past_the_store(where, {"DELETE FROM schema_version WHERE version = 99"});
    CHECK(opened(where).list(day.id).value().size() == 2);
  });
}

TEST_CASE("a store may lie in a folder whose name has spaces", "[assessment][store]") {
  const tests::TemporaryFolder folder;
  const std::string home = folder / "Dr  O'Neill's desk";
  std::filesystem::create_directories(home);
  const Day day;
  { REQUIRE(opened(home + "/results.sqlite").hand_in(std::vector{day.station("0417", 0)}).ok()); }
  CHECK(std::filesystem::exists(home + "/results.sqlite"));
  CHECK(opened(home + "/results.sqlite").list(day.id).value().size() == 1);
  CHECK_FALSE(Store::open(home + "/a\"b.sqlite").ok());
}

TEST_CASE("what is handed in is there once, with what it says", "[assessment][store]") {
  with_both([](const std::string& where) {
    const Day day;
    Store store = opened(where);
    const HandIn one = day.station("0417", 3);
    const std::vector<HandIn> two{one, day.station("0388", 0)};
    CHECK(store.hand_in(std::vector{one}).value().added == 1);
    const Received again = store.hand_in(two).value();
    CHECK(again.added == 1);
    CHECK(again.already_there == 1);
    // Opened again: nothing is made twice, nothing is lost.
    Store other = opened(where);
    const auto list = other.list(day.id).value();
    REQUIRE(list.size() == 2);
    CHECK(list[0].candidate == "0388");
    CHECK(list[1].candidate == "0417");
    CHECK(list[1].station == 3);
    CHECK(list[1].workstation == "desk 1");
    CHECK(list[1].whole);
    CHECK(list[1].used_ms == 500);
    CHECK(list[1].at == "2026-11-24T10:00:00Z");
    CHECK(other.read_content(list[1].id).value() == one.content);
    CHECK_FALSE(other.read_content("nobody").ok());
    CHECK(other.list("another circuit").value().empty());
    CHECK(find_doubles(list).empty());
  });
}

TEST_CASE("scores are put once and not changed", "[assessment][store]") {
  with_both([](const std::string& where) {
    const Day day;
    Store store = opened(where);
    REQUIRE(store.hand_in(std::vector{day.station("0417", 3)}).ok());
    const std::string id = store.list(day.id).value()[0].id;
    const std::vector<StoredScore> scores{{id, 61.5, true, R"({"total":61.5})"}};
    CHECK_FALSE(store.put_scores(scores));
    CHECK_FALSE(store.put_scores(scores));
    const auto list = store.list_scores(day.id).value();
    REQUIRE(list.size() == 1);
    CHECK(list[0].total == 61.5);
    CHECK(list[0].unsafe);
    CHECK(list[0].sheet == R"({"total":61.5})");
    const auto other = store.put_scores(std::vector<StoredScore>{{id, 70, false, "{}"}});
    REQUIRE(other);
    CHECK(other->message.find("another score") != std::string::npos);
    CHECK(store.put_scores(std::vector<StoredScore>{{"nobody", 70, false, "{}"}}));
    CHECK(store.list_scores(day.id).value().size() == 1);
  });
}

TEST_CASE("altered stations are refused, those cut short are taken and say so",
          "[assessment][store]") {
  with_both([](const std::string& where) {
    const Day day;
    Store store = opened(where);
    HandIn altered = day.station("0417", 3);
    altered.content[altered.content.size() / 2] ^= 1;
    const auto refused = store.hand_in(std::vector{day.station("0388", 3), altered});
    REQUIRE_FALSE(refused.ok());
    CHECK(refused.problems()[0].place == "station 2");
    CHECK(store.list(day.id).value().empty());  // all or none
    HandIn cut = day.station("0417", 3);
    cut.content.resize(cut.content.size() - 20);
    CHECK(store.hand_in(std::vector{cut}).value().added == 1);
    CHECK_FALSE(store.list(day.id).value()[0].whole);
  });
}

TEST_CASE("two workstations with one identity are both kept and told", "[assessment][store]") {
  with_both([](const std::string& where) {
    const Day day;
    Store store = opened(where);
    const std::vector<HandIn> both{day.station("0417", 3), day.station("0417", 3, "other"),
                                   day.station("0417", 4)};
    REQUIRE(store.hand_in(both).value().added == 3);
    CHECK(find_doubles(store.list(day.id).value()).size() == 1);
  });
}

namespace {

// Runs `call` with a fault at its first statement, its second ... until it goes through, each time
// with a connection of its own; returns how many faults there were. `call` says whether it worked;
// `after` looks at the store through the connection that had the fault.
std::size_t fail_everywhere(const std::string& where,
                            const std::function<Result<bool>(Store&)>& call,
                            const std::function<void(Store&)>& after) {
  for (int fail_at = 0;; ++fail_at) {
    REQUIRE(fail_at < 50);
    int statement = 0;
    bool armed = false;
    Store store = opened(where, [&](std::string_view) {
      if (armed && statement++ == fail_at) throw std::runtime_error("the line is cut");
    });
    armed = true;
    const Result<bool> done = call(store);
    armed = false;
    if (done) return static_cast<std::size_t>(fail_at);
    CHECK(done.problems()[0].message.find("the line is cut") != std::string::npos);
    after(store);
  }
}

template <class T>
Result<bool> is_done(const Result<T>& result) {
  return result ? Result<bool>(true) : Result<bool>(result.problems());
}
Result<bool> is_done(const std::optional<Problem>& problem) {
  return problem ? Result<bool>(Problems{*problem}) : Result<bool>(true);
}

}  // namespace

TEST_CASE("a fault at any statement leaves nothing half done, and a second try puts it right",
          "[assessment][store]") {
  with_both([](const std::string& where) {
    const Day day;
    { Store made = opened(where); }
    const std::vector<HandIn> stations{day.station("0417", 3), day.station("0388", 3)};
    // BEGIN, two inserts for each of two stations, COMMIT.
    CHECK(fail_everywhere(
              where, [&](Store& store) { return is_done(store.hand_in(stations)); },
              [&](Store& store) { CHECK(store.list(day.id).value().empty()); }) == 6);
    Store store = opened(where);
    CHECK(store.hand_in(stations).value().already_there == 2);
    const auto list = store.list(day.id).value();
    REQUIRE(list.size() == 2);

    const std::vector<StoredScore> scores{{list[0].id, 61.5, false, "{}"},
                                          {list[1].id, 70.0, true, "{}"}};
    // BEGIN, an insert for each, COMMIT.
    CHECK(fail_everywhere(
              where, [&](Store& s) { return is_done(s.put_scores(scores)); },
              [&](Store& s) { CHECK(s.list_scores(day.id).value().empty()); }) == 4);
    // Again: an insert that finds it there and a look at what is there, for each.
    CHECK(fail_everywhere(
              where, [&](Store& s) { return is_done(s.put_scores(scores)); },
              [&](Store& s) { CHECK(s.list_scores(day.id).value().size() == 2); }) == 6);

    // What only reads says so too, and the connection goes on.
    const auto nothing_lost = [&](Store& s) { CHECK(s.list(day.id).value().size() == 2); };
    CHECK(fail_everywhere(
              where, [&](Store& s) { return is_done(s.list(day.id)); }, nothing_lost) == 1);
    CHECK(fail_everywhere(
              where, [&](Store& s) { return is_done(s.read_content(list[0].id)); }, nothing_lost) ==
          1);
    CHECK(fail_everywhere(
              where, [&](Store& s) { return is_done(s.list_scores(day.id)); }, nothing_lost) == 1);
    CHECK(opened(where).list_scores(day.id).value().size() == 2);
  });
}

TEST_CASE("many are handed in together: each is told once it is in, a bad one keeps no other out",
          "[assessment][store]") {
  with_both([](const std::string& where) {
    const Day day;
    int begun = 0;
    int committed = 0;
    Store store = opened(where, [&](std::string_view statement) {
      begun += statement.starts_with("BEGIN") ? 1 : 0;
      committed += statement == "COMMIT" ? 1 : 0;
    });
    const int before = begun;
    std::vector<std::string> told;
    const auto tell = [&](const std::string& name, const Result<bool>& is_new) {
      // Whoever is told finds it there, on any connection.
      if (is_new) CHECK(committed > before);
      told.push_back(name + (!is_new ? " refused" : is_new.value() ? " new" : " there"));
    };
    const HandIn first = day.station("0417", 0);
    {
      HandInQueue queue(store, tell);
      queue.add("a", first);
      queue.add("b", day.station("0417", 1));
      CHECK(told.empty());
      queue.flush();
      CHECK(told == std::vector<std::string>{"a new", "b new"});
      CHECK(begun == before + 1);  // one transaction, one wait for the disk
      HandIn altered = day.station("0418", 0);
      altered.content[altered.content.size() / 2] ^= 1;
      queue.add("c", altered);
      queue.add("d", day.station("0418", 1));
      queue.add("a", first);
    }
    CHECK(told == std::vector<std::string>{"a new", "b new", "c refused", "d new", "a there"});
    CHECK(opened(where).list(day.id).value().size() == 3);
    // What is long does not wait for more.
    told.clear();
    HandInQueue queue(store, tell);
    const std::string note(1'000'000, 'n');
    for (std::size_t s = 0; s < 8; ++s) queue.add("long", day.station("0500", s, note));
    CHECK_FALSE(told.empty());
  });
}

TEST_CASE("a fault at any statement of making the tables leaves an empty store",
          "[assessment][store]") {
  with_both([](const std::string& where) {
    bool went_through = false;
    int faults = 0;
    for (int fail_at = 0; !went_through; ++fail_at) {
      REQUIRE(fail_at < 50);
      int statement = 0;
      const Result<Store> store = Store::open(where, [&](std::string_view) {
        if (statement++ == fail_at) throw std::runtime_error("the disk is gone");
      });
      went_through = store.ok();
      if (!went_through) {
        ++faults;
        CHECK(store.problems()[0].message.find("the disk is gone") != std::string::npos);
      }
    }
    CHECK(faults >= 8);
    CHECK(opened(where).list("any").value().empty());
  });
}

TEST_CASE("a full disk and a store that is only to be read are told, and lose nothing",
          "[assessment][store]") {
  // A file that may grow to 60 kB: the engine of the database meets the limit in mid-write.
  tests::TemporaryFolder folder;
  const std::string where = folder / "results.sqlite";
  const Day day;
  const std::string note(40'000, 'n');
  { REQUIRE(opened(where).hand_in(std::vector{day.station("0417", 0)}).ok()); }
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    const rlimit small{60'000, 60'000};
    setrlimit(RLIMIT_FSIZE, &small);
    signal(SIGXFSZ, SIG_IGN);
    Result<Store> store = Store::open(where);
    if (!store) _exit(2);
    Store full = std::move(store).value();
    const auto refused = full.hand_in(std::vector{day.station("0388", 1, note)});
    if (refused.ok()) _exit(3);
    const std::string told = refused.problems()[0].message;
    if (told.find("has nothing of it") == std::string::npos) _exit(4);
    _exit(0);
  }
  int status = 0;
  waitpid(child, &status, 0);
  REQUIRE(WIFEXITED(status));
  CHECK(WEXITSTATUS(status) == 0);
  Store store = opened(where);
  const auto list = store.list(day.id).value();
  REQUIRE(list.size() == 1);  // nothing lost, nothing half
  CHECK(list[0].candidate == "0417");
  CHECK(store.hand_in(std::vector{day.station("0388", 1, note)}).value().added == 1);
}

TEST_CASE("sixteen workstations write at once, each twice: nothing lost, nothing double",
          "[assessment][store]") {
  with_both([](const std::string& where) {
    constexpr int kWorkstations = 16;
    constexpr std::size_t kStations = 12;
    const Day day;
    std::vector<int> failed(kWorkstations, 0);
    std::vector<std::thread> desks;
    for (int w = 0; w < kWorkstations; ++w) {
      desks.emplace_back([&, w] {
        // All open an empty store together, too.
        Result<Store> store = Store::open(where);
        if (!store) {
          failed[static_cast<std::size_t>(w)] = 1000;
          return;
        }
        Store mine = std::move(store).value();
        for (std::size_t s = 0; s < kStations; ++s) {
          const HandIn one = day.station(std::to_string(w), s);
          for (int twice = 0; twice < 2; ++twice) {
            if (!mine.hand_in(std::vector{one}).ok()) ++failed[static_cast<std::size_t>(w)];
          }
        }
      });
    }
    for (std::thread& desk : desks) desk.join();
    CHECK(failed == std::vector<int>(kWorkstations, 0));
    Store store = opened(where);
    const auto list = store.list(day.id).value();
    CHECK(list.size() == kWorkstations * kStations);
    CHECK(find_doubles(list).empty());
  });
}

TEST_CASE("a store that vanishes gives a clear message, and one that cannot be there too",
          "[assessment][store]") {
  CHECK_FALSE(Store::open("/nowhere/at/all/results.sqlite").ok());
  CHECK_FALSE(Store::open("postgresql:///postgres?host=/nowhere").ok());
  tests::PostgresServer server;
  if (!server.installed()) return;
  REQUIRE(server.running());
  const Day day;
  Store store = opened(server.address());
  server.stop();
  const auto lost = store.hand_in(std::vector{day.station("0417", 3)});
  REQUIRE_FALSE(lost.ok());
  CHECK(lost.problems()[0].message.find("did not take it") != std::string::npos);
}

TEST_CASE("a server that goes in mid-write has nothing of it, and all of it after a second try",
          "[assessment][store]") {
  tests::PostgresServer server;
  if (!server.installed()) return;
  REQUIRE(server.running());
  const Day day;
  const std::vector<HandIn> stations{day.station("0417", 3), day.station("0388", 3)};
  { Store made = opened(server.address()); }
  // Before the last content is written, and before all of it is confirmed.
  for (const std::string_view at : {"INSERT INTO kept_content", "COMMIT"}) {
    INFO(at);
    int left = at == "COMMIT" ? 1 : 2;
    bool armed = false;
    Store store = opened(server.address(), [&](std::string_view statement) {
      if (armed && statement == at && --left == 0) server.stop();
    });
    armed = true;
    const auto lost = store.hand_in(stations);
    REQUIRE_FALSE(lost.ok());
    CHECK(lost.problems()[0].message.find("has nothing of it") != std::string::npos);
    server.start();
    REQUIRE(server.running());
    CHECK(opened(server.address()).list(day.id).value().empty());
  }
  Store store = opened(server.address());
  CHECK(store.hand_in(stations).value().added == 2);
  CHECK(store.list(day.id).value().size() == 2);
}

TEST_CASE("a file that is taken away or replaced while it is written to is told, never silent",
          "[assessment][store]") {
  for (const bool replaced : {false, true}) {
    INFO((replaced ? "replaced" : "removed"));
    tests::TemporaryFolder folder;
    const std::string where = folder / "results.sqlite";
    const Day day;
    bool armed = false;
    Store store = opened(where, [&](std::string_view statement) {
      if (!armed || statement != "INSERT INTO kept_content") return;
      ::unlink(where.c_str());
      if (replaced) (void)write_whole_file(where, "something else");
    });
    REQUIRE(store.hand_in(std::vector{day.station("0417", 0)}).ok());
    armed = true;
    const auto lost = store.hand_in(std::vector{day.station("0417", 1)});
    REQUIRE_FALSE(lost.ok());
    INFO(lost.problems()[0].message);
    // Told by the database itself, or by who looks whether the file is still there.
    CHECK(lost.problems()[0].message.find("store") != std::string::npos);
  }
}
