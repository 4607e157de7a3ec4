// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Statements on their way to a learning record store that fails first: each is there once, whatever
// was lost in between. The store is tests/support/record_store.py, on this machine, over HTTPS.
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <string>
#include <vector>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "sim/basics/file.hpp"
#include "sim/program/post_statements.hpp"
#include "tests/support/places.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace redress;
using namespace redress::program;
using nlohmann::json;
using nlohmann::ordered_json;

namespace {

class Server {
 public:
  explicit Server(bool encrypted) : encrypted_(encrypted) {
    const std::string script = support::source_dir() + "/tests/support/record_store.py";
    if (encrypted &&
        std::system(("openssl req -x509 -newkey ec -pkeyopt ec_paramgen_curve:prime256v1 -nodes "
                     "-days 2 -subj /CN=localhost -addext subjectAltName=DNS:localhost -keyout '" +
                     (folder_ / "key.pem") + "' -out '" + certificate() + "' 2>/dev/null")
                        .c_str()) != 0) {
      return;
    }
    const std::string key = folder_ / "key.pem";
    const std::string own = certificate();
    child_ = fork();
    if (child_ == 0) {
      if (encrypted) {
        execlp("python3", "python3", script.c_str(), folder_.path().c_str(), own.c_str(),
               key.c_str(), nullptr);
      } else {
        execlp("python3", "python3", script.c_str(), folder_.path().c_str(), nullptr);
      }
      _exit(127);
    }
    for (int i = 0; i < 1200 && !std::filesystem::exists(folder_ / "port"); ++i) usleep(50'000);
    std::ifstream(folder_ / "port") >> port_;
  }
  ~Server() {
    if (child_ <= 0) return;
    kill(child_, SIGKILL);
    waitpid(child_, nullptr, 0);
  }
  Server(const Server&) = delete;
  Server& operator=(const Server&) = delete;

  [[nodiscard]] bool running() const { return port_ > 0; }
  [[nodiscard]] std::string certificate() const { return folder_ / "certificate.pem"; }
  [[nodiscard]] RecordStore store() const {
    const std::string port = std::to_string(port_);
    if (encrypted_) return {"https://localhost:" + port + "/xapi", "", certificate()};
    return {"http://127.0.0.1:" + port + "/xapi", "", ""};
  }
  void put(const std::string& name, const std::string& text) const {
    std::ofstream(folder_ / name) << text;
  }
  /// How often each id is there.
  [[nodiscard]] std::map<std::string, int> held() const {
    std::map<std::string, int> ids;
    std::ifstream lines(folder_ / "statements.jsonl");
    for (std::string line; std::getline(lines, line);) {
      ++ids[json::parse(line)["id"].get<std::string>()];
    }
    return ids;
  }

 private:
  tests::TemporaryFolder folder_;
  bool encrypted_;
  pid_t child_ = -1;
  int port_ = 0;
};

ordered_json make_statements(int count) {
  ordered_json all = ordered_json::array();
  for (int i = 0; i < count; ++i) {
    std::string id = "00000000-0000-8000-8000-000000000000";
    id.replace(id.size() - 4, 4, std::to_string(1000 + i));
    all.push_back(
        {{"id", id},
         {"actor", {{"account", {{"homePage", "https://example.org"}, {"name", "0417"}}}}},
         {"verb", {{"id", "http://adlnet.gov/expapi/verbs/completed"}}},
         {"object", {{"id", "https://example.org/redress/" + std::to_string(i)}}},
         {"result", {{"score", {{"raw", i}, {"min", 0}, {"max", 1000}}}}}});
  }
  return all;
}

bool each_once(const Server& server, std::size_t count) {
  const auto held = server.held();
  return held.size() == count &&
         std::all_of(held.begin(), held.end(), [](const auto& id) { return id.second == 1; });
}

struct Waits {
  std::vector<std::int64_t> seconds;
  Wait call() {
    return [this](std::int64_t s) { seconds.push_back(s); };
  }
};

}  // namespace

TEST_CASE("a record store that fails and then takes statements has each of them once") {
  Server server(true);
  REQUIRE(server.running());
  server.put("faults", "503 drop 429");
  Waits waits;
  const auto posted = post_statements(make_statements(120), server.store(), waits.call());
  REQUIRE(posted.ok());
  CHECK(posted.value().taken == 120);
  CHECK(posted.value().already_there == 0);
  CHECK(posted.value().requests == 6);  // three batches of at most 50, three faults
  CHECK(waits.seconds == std::vector<std::int64_t>{1, 2, 4});
  CHECK(each_once(server, 120));
  // Again: nothing is there twice, and that is no fault.
  const auto again = post_statements(make_statements(120), server.store(), waits.call());
  REQUIRE(again.ok());
  CHECK(again.value().taken == 0);
  CHECK(again.value().already_there == 120);
  CHECK(each_once(server, 120));
}

TEST_CASE("an answer that is lost after the statements were taken makes none of them double") {
  Server server(false);
  REQUIRE(server.running());
  server.put("faults", "lose");
  Waits waits;
  const auto posted = post_statements(make_statements(30), server.store(), waits.call());
  REQUIRE(posted.ok());
  CHECK(posted.value().taken + posted.value().already_there == 30);
  CHECK(each_once(server, 30));
  // Further ones beside them, the answer to one of them lost.
  const auto more = post_statements(make_statements(40), server.store(), waits.call());
  REQUIRE(more.ok());
  CHECK(more.value().taken == 10);
  CHECK(more.value().already_there == 30);
  CHECK(each_once(server, 40));
}

TEST_CASE("what a record store refuses is told, and what is there under another id is not hidden") {
  Server server(false);
  REQUIRE(server.running());
  Waits waits;
  server.put("login", "assessor:a long word");
  const auto refused = post_statements(make_statements(3), server.store(), waits.call());
  REQUIRE_FALSE(refused.ok());
  CHECK(refused.problems()[0].message.find("status 401, who are you") != std::string::npos);
  CHECK(waits.seconds.empty());  // a refusal does not pass
  RecordStore store = server.store();
  store.login = "assessor:a long word";
  REQUIRE(post_statements(make_statements(3), store, waits.call()).ok());
  ordered_json other = make_statements(3);
  other[1]["result"]["score"]["raw"] = 77;
  const auto differs = post_statements(other, store, waits.call());
  REQUIRE_FALSE(differs.ok());
  CHECK(differs.problems()[0].message.find("another statement under the id") != std::string::npos);
  CHECK(each_once(server, 3));

  server.put("faults", "503 503 503 503 503 503 503 503 503");
  const auto gone = post_statements(make_statements(5), store, waits.call());
  REQUIRE_FALSE(gone.ok());
  CHECK(gone.problems()[0].message.find("could not be reached: status 503") != std::string::npos);
  CHECK(waits.seconds == std::vector<std::int64_t>{1, 2, 4, 8, 16, 32, 60});
}

TEST_CASE("statements go encrypted to a store whose certificate is trusted, or not at all") {
  Waits waits;
  const auto plain =
      post_statements(make_statements(1), {"http://example.org/xapi", "", ""}, waits.call());
  REQUIRE_FALSE(plain.ok());
  CHECK(plain.problems()[0].message.find("allowed: https://") != std::string::npos);
  CHECK_FALSE(
      post_statements(make_statements(1), {"http://localhost.example.org", "", ""}, waits.call())
          .ok());
  CHECK(waits.seconds.empty());
  Server server(true);
  REQUIRE(server.running());
  RecordStore stranger = server.store();
  stranger.authority.clear();  // the system does not know it
  CHECK_FALSE(post_statements(make_statements(1), stranger, waits.call()).ok());
  CHECK(server.held().empty());
}
