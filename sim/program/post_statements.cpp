// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/program/post_statements.hpp"

#include <curl/curl.h>
#include <dlfcn.h>

#include <algorithm>
#include <array>
#include <memory>
#include <optional>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "sim/assessment/sealed_circuit.hpp"
#include "sim/basics/json_reader.hpp"

namespace redress::program {

namespace {

using nlohmann::json;
using nlohmann::ordered_json;

constexpr std::size_t kBatch = 50;
constexpr int kMostTries = 8;
constexpr long kLongestS = 60;
constexpr std::size_t kLongestAnswer = std::size_t{1} << 20;

/// The few functions of libcurl that are used, fetched when somebody posts.
struct Curl {
  decltype(&::curl_easy_init) easy_init = nullptr;
  CURLcode (*easy_setopt)(CURL*, CURLoption, ...) = nullptr;
  decltype(&::curl_easy_perform) easy_perform = nullptr;
  CURLcode (*easy_getinfo)(CURL*, CURLINFO, ...) = nullptr;
  decltype(&::curl_easy_strerror) easy_strerror = nullptr;
  decltype(&::curl_easy_cleanup) easy_cleanup = nullptr;
  decltype(&::curl_slist_append) slist_append = nullptr;
  decltype(&::curl_slist_free_all) slist_free_all = nullptr;
};

std::optional<Curl> load_curl() {
  void* const library = dlopen("libcurl.so.4", RTLD_NOW);  // stays for as long as the program runs
  if (library == nullptr) return std::nullopt;
  Curl curl;
  bool all = true;
  const auto find = [&](auto& function, const char* name) {
    function = reinterpret_cast<std::remove_reference_t<decltype(function)>>(dlsym(library, name));
    all = all && function != nullptr;
  };
  find(curl.easy_init, "curl_easy_init");
  find(curl.easy_setopt, "curl_easy_setopt");
  find(curl.easy_perform, "curl_easy_perform");
  find(curl.easy_getinfo, "curl_easy_getinfo");
  find(curl.easy_strerror, "curl_easy_strerror");
  find(curl.easy_cleanup, "curl_easy_cleanup");
  find(curl.slist_append, "curl_slist_append");
  find(curl.slist_free_all, "curl_slist_free_all");
  if (!all) return std::nullopt;
  return curl;
}

std::size_t take_answer(char* data, std::size_t size, std::size_t count, void* into) {
  auto& answer = *static_cast<std::string*>(into);
  const std::size_t bytes = size * count;
  if (answer.size() + bytes > kLongestAnswer) return 0;  // no store has so much to say
  answer.append(data, bytes);
  return bytes;
}

struct Answer {
  long status = 0;  ///< 0: none came
  std::string body;
  std::string fault;  ///< why none came

  [[nodiscard]] bool may_pass() const {
    return status == 0 || status == 408 || status == 429 || status >= 500;
  }
  [[nodiscard]] std::string told() const {
    if (status == 0) return fault;
    std::string line = body.substr(0, std::min(body.find('\n'), std::size_t{200}));
    return fmt::format("status {}{}{}", status, line.empty() ? "" : ", ", line);
  }
};

enum class Method { get, put, post };

class Connection {
 public:
  Connection(const Curl& curl, const RecordStore& store, const Wait& wait)
      : curl_(curl), store_(store), wait_(wait), handle_(curl.easy_init()) {}
  ~Connection() {
    if (handle_ != nullptr) curl_.easy_cleanup(handle_);
  }
  Connection(const Connection&) = delete;
  Connection& operator=(const Connection&) = delete;

  [[nodiscard]] std::size_t requests() const { return requests_; }

  /// Again while the fault may pass.
  Answer ask(Method method, const std::string& query, const std::string& body) {
    Answer answer;
    for (int tries = 1;; ++tries) {
      answer = ask_once(method, query, body);
      if (!answer.may_pass() || tries == kMostTries) return answer;
      wait_(assessment::calc_wait_s(tries));
    }
  }

 private:
  Answer ask_once(Method method, const std::string& query, const std::string& body) {
    ++requests_;
    Answer answer;
    if (handle_ == nullptr) {
      answer.fault = "no memory for a connection";
      return answer;
    }
    const auto set = [&](CURLoption option, auto value) {
      (void)curl_.easy_setopt(handle_, option, value);
    };
    const std::string address = store_.address + "/statements" + query;
    curl_slist* headers = nullptr;
    for (const char* header :
         {"X-Experience-API-Version: 2.0.0", "Content-Type: application/json", "Expect:"}) {
      headers = curl_.slist_append(headers, header);
    }
    set(CURLOPT_URL, address.c_str());
    set(CURLOPT_HTTPHEADER, headers);
    set(CURLOPT_NOSIGNAL, 1L);
    set(CURLOPT_CONNECTTIMEOUT, kLongestS);
    set(CURLOPT_TIMEOUT, kLongestS);
    set(CURLOPT_FOLLOWLOCATION, 0L);
    set(CURLOPT_SSL_VERIFYPEER, 1L);
    set(CURLOPT_SSL_VERIFYHOST, 2L);
    if (!store_.authority.empty()) set(CURLOPT_CAINFO, store_.authority.c_str());
    if (!store_.login.empty()) {
      set(CURLOPT_HTTPAUTH, static_cast<long>(CURLAUTH_BASIC));
      set(CURLOPT_USERPWD, store_.login.c_str());
    }
    if (method == Method::get) {
      set(CURLOPT_HTTPGET, 1L);
      set(CURLOPT_CUSTOMREQUEST, "GET");
    } else {
      set(CURLOPT_POSTFIELDS, body.c_str());
      set(CURLOPT_POSTFIELDSIZE, static_cast<long>(body.size()));
      set(CURLOPT_CUSTOMREQUEST, method == Method::put ? "PUT" : "POST");
    }
    set(CURLOPT_WRITEFUNCTION, &take_answer);
    set(CURLOPT_WRITEDATA, &answer.body);
    const CURLcode code = curl_.easy_perform(handle_);
    if (code == CURLE_OK) {
      (void)curl_.easy_getinfo(handle_, CURLINFO_RESPONSE_CODE, &answer.status);
    } else {
      answer.fault = curl_.easy_strerror(code);
    }
    curl_.slist_free_all(headers);
    return answer;
  }

  const Curl& curl_;
  const RecordStore& store_;
  const Wait& wait_;
  CURL* handle_ = nullptr;
  std::size_t requests_ = 0;
};

bool is_here(std::string_view address) {
  for (const std::string_view host : {"http://localhost", "http://127.0.0.1", "http://[::1]"}) {
    if (!address.starts_with(host)) continue;
    const std::string_view rest = address.substr(host.size());
    return rest.empty() || rest.front() == ':' || rest.front() == '/';
  }
  return false;
}

// What a store may not change; it adds "stored" and "authority" and may complete the rest.
bool is_same(const ordered_json& sent, const json& there) {
  const json ours = json::parse(sent.dump());
  for (const char* key : {"id", "verb", "result"}) {
    if (!there.contains(key)) return false;
  }
  return there["id"] == ours["id"] && there["verb"]["id"] == ours["verb"]["id"] &&
         there.value("object", json::object()).value("id", "") == ours["object"]["id"] &&
         there["result"] == ours["result"] &&
         there.value("actor", json::object()).value("account", json()) == ours["actor"]["account"];
}

class Posting {
 public:
  explicit Posting(Connection& connection) : connection_(connection) {}

  /// Nothing: all of them are there.
  std::optional<Problem> post(const ordered_json& batch) {
    const Answer answer = connection_.ask(Method::post, "", batch.dump());
    if (answer.status == 200 || answer.status == 204) {
      posted.taken += batch.size();
      return std::nullopt;
    }
    // One of them is there already, or there are too many for one request: one by one.
    if (answer.status != 409 && answer.status != 413) return refused(answer);
    for (const ordered_json& statement : batch) {
      if (auto problem = put(statement)) return problem;
    }
    return std::nullopt;
  }

  Posted posted;

 private:
  std::optional<Problem> put(const ordered_json& statement) {
    const std::string id = statement["id"].get<std::string>();
    const std::string query = "?statementId=" + id;
    const Answer there = connection_.ask(Method::get, query, "");
    if (there.status == 200) {
      const Result<json> value = parse_json(there.body);
      if (!value || !is_same(statement, value.value())) {
        return Problem{"", "the record store has another statement under the id " + id};
      }
      ++posted.already_there;
      return std::nullopt;
    }
    if (there.status != 404) return refused(there);
    const Answer answer = connection_.ask(Method::put, query, statement.dump());
    if (answer.status != 200 && answer.status != 204 && answer.status != 409) {
      return refused(answer);
    }
    answer.status == 409 ? ++posted.already_there : ++posted.taken;
    return std::nullopt;
  }

  [[nodiscard]] Problem refused(const Answer& answer) const {
    const char* what = answer.may_pass() ? "the record store could not be reached"
                                         : "the record store does not take it";
    return {"", fmt::format("{}: {}; it has {} of the statements, and posting again sends the rest",
                            what, answer.told(), posted.taken + posted.already_there)};
  }

  Connection& connection_;
};

}  // namespace

Result<Posted> post_statements(const ordered_json& statements, const RecordStore& store,
                               const Wait& wait) {
  if (!store.address.starts_with("https://") && !is_here(store.address)) {
    return Problems{
        {"", "the record store's address is \"" + store.address + "\"; allowed: https://..."}};
  }
  const std::optional<Curl> curl = load_curl();
  if (!curl) {
    return Problems{{"",
                     "libcurl.so.4 is not installed; allowed: a file of statements, or install "
                     "libcurl4"}};
  }
  Connection connection(*curl, store, wait);
  Posting posting(connection);
  for (std::size_t at = 0; at < statements.size(); at += kBatch) {
    ordered_json batch = ordered_json::array();
    for (std::size_t i = at; i < std::min(at + kBatch, statements.size()); ++i) {
      batch.push_back(statements[i]);
    }
    if (auto problem = posting.post(batch)) return Problems{*problem};
  }
  posting.posted.requests = connection.requests();
  return posting.posted;
}

}  // namespace redress::program
