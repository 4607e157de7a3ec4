// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The rules by which a learning record store takes or refuses a statement: IEEE 9274.1.1-2023, as
// in the specification's chapter on data (2.2 form, 2.4.1 id, 2.4.2 actor, 2.4.3 verb, 2.4.4
// object, 2.4.5 result, 2.4.7 timestamp, 2.4.10 version, 4.2 language maps, 4.5 timestamps, 4.6
// durations). Written from those rules and not from what is sent; agents and activities, which is
// what is sent.
#pragma once

#include <nlohmann/json.hpp>
#include <regex>
#include <set>
#include <string>
#include <vector>

namespace redress::testing {

class XapiRules {
 public:
  /// What a store would refuse the batch for; empty: nothing.
  static std::vector<std::string> check(const nlohmann::json& batch) {
    XapiRules rules;
    if (!batch.is_array() || batch.empty()) rules.fault("2.2: no statements");
    std::set<std::string> ids;
    for (const nlohmann::json& statement : batch) {
      rules.check_statement(statement);
      if (statement.is_object() && statement.contains("id") && statement["id"].is_string() &&
          !ids.insert(statement["id"].get<std::string>()).second) {
        rules.fault("2.4.1: an id twice");
      }
    }
    return rules.faults_;
  }

 private:
  using json = nlohmann::json;

  void fault(const std::string& what) { faults_.push_back(what); }
  void need(bool good, const char* what) {
    if (!good) fault(what);
  }
  static bool matches(const json& value, const char* pattern) {
    return value.is_string() && std::regex_match(value.get<std::string>(), std::regex(pattern));
  }
  static bool is_iri(const json& value) {
    return matches(value, "[A-Za-z][A-Za-z0-9+.-]*:[^\\s<>\"{}|\\\\^`]+");
  }
  void only(const json& object, const std::set<std::string>& allowed, const char* what) {
    if (!object.is_object()) return fault(std::string(what) + ": not an object");
    for (const auto& [key, value] : object.items()) {
      if (allowed.count(key) == 0) fault(std::string(what) + ": unknown property " + key);
      if (value.is_null()) fault("2.2: null in " + key);
    }
  }
  void check_language_map(const json& map, const char* what) {
    if (!map.is_object()) return fault(what);
    for (const auto& [tag, words] : map.items()) {
      need(std::regex_match(tag, std::regex("[a-z]{2,3}(-[A-Za-z0-9]{1,8})*")) && words.is_string(),
           what);
    }
  }

  void check_statement(const json& s) {
    only(s,
         {"id", "actor", "verb", "object", "result", "context", "timestamp", "stored", "authority",
          "version", "attachments"},
         "2.2 statement");
    if (!s.is_object()) return;
    for (const char* part : {"actor", "verb", "object"}) {
      if (!s.contains(part)) return fault(std::string("2.4: no ") + part);
    }
    if (s.contains("id")) {
      need(matches(s["id"],
                   "[0-9a-fA-F]{8}-[0-9a-fA-F]{4}-[1-8][0-9a-fA-F]{3}-[89abAB]"
                   "[0-9a-fA-F]{3}-[0-9a-fA-F]{12}"),
           "2.4.1: id is no UUID (RFC 4122, RFC 9562)");
    }
    check_agent(s["actor"]);
    only(s["verb"], {"id", "display"}, "2.4.3 verb");
    need(is_iri(s["verb"].value("id", json())), "2.4.3: verb's id is no IRI");
    if (s["verb"].contains("display")) check_language_map(s["verb"]["display"], "2.4.3.2: display");
    check_activity(s["object"]);
    if (s.contains("result")) check_result(s["result"]);
    if (s.contains("timestamp")) check_timestamp(s["timestamp"]);
    if (s.contains("version")) {
      need(matches(s["version"], "(1\\.0\\.[0-9]+|2\\.0\\.[0-9]+)"), "2.4.10: version");
    }
    if (s["verb"].value("id", "") == "http://adlnet.gov/expapi/verbs/voided") {
      need(s["object"].value("objectType", "") == "StatementRef", "2.3.2: voids no statement");
    }
  }

  void check_agent(const json& actor) {
    only(actor, {"objectType", "name", "mbox", "mbox_sha1sum", "openid", "account"}, "2.4.2 actor");
    if (!actor.is_object()) return;
    need(actor.value("objectType", "Agent") == "Agent", "2.4.2: not an agent");
    int identifiers = 0;
    for (const char* key : {"mbox", "mbox_sha1sum", "openid", "account"}) {
      identifiers += actor.contains(key) ? 1 : 0;
    }
    need(identifiers == 1, "2.4.2.1: not exactly one inverse functional identifier");
    if (actor.contains("mbox")) need(matches(actor["mbox"], "mailto:[^@]+@[^@]+"), "2.4.2.3: mbox");
    if (actor.contains("account")) {
      only(actor["account"], {"homePage", "name"}, "2.4.2.4 account");
      need(is_iri(actor["account"].value("homePage", json())), "2.4.2.4: homePage is no IRL");
      need(matches(actor["account"].value("name", json()), "[\\s\\S]+"), "2.4.2.4: no name");
    }
  }

  void check_activity(const json& object) {
    only(object, {"objectType", "id", "definition"}, "2.4.4 activity");
    if (!object.is_object()) return;
    need(object.value("objectType", "Activity") == "Activity", "2.4.4: not an activity");
    need(is_iri(object.value("id", json())), "2.4.4.1: id is no IRI");
    if (!object.contains("definition")) return;
    const json& d = object["definition"];
    only(d, {"name", "description", "type", "moreInfo", "extensions"}, "2.4.4.1 definition");
    if (d.contains("name")) check_language_map(d["name"], "2.4.4.1: name");
    if (d.contains("type")) need(is_iri(d["type"]), "2.4.4.1: type is no IRI");
  }

  void check_result(const json& r) {
    only(r, {"score", "success", "completion", "response", "duration", "extensions"},
         "2.4.5 result");
    for (const char* key : {"success", "completion"}) {
      if (r.contains(key)) need(r[key].is_boolean(), "2.4.5: not a boolean");
    }
    if (r.contains("duration")) {
      need(matches(r["duration"],
                   "P(?=.)([0-9]+D)?(T(?=.)([0-9]+H)?([0-9]+M)?"
                   "([0-9]+(\\.[0-9]+)?S)?)?"),
           "4.6: duration");
    }
    if (!r.contains("score")) return;
    const json& s = r["score"];
    only(s, {"scaled", "raw", "min", "max"}, "2.4.5.1 score");
    for (const auto& [key, value] : s.items()) need(value.is_number(), "2.4.5.1: no number");
    const auto has = [&](const char* key) { return s.contains(key) && s[key].is_number(); };
    if (has("scaled")) {
      need(s["scaled"] >= -1.0 && s["scaled"] <= 1.0, "2.4.5.1: scaled outside -1 ... 1");
    }
    if (has("min") && has("max")) need(s["min"] < s["max"], "2.4.5.1: min not below max");
    if (has("raw") && has("min")) need(s["raw"] >= s["min"], "2.4.5.1: raw below min");
    if (has("raw") && has("max")) need(s["raw"] <= s["max"], "2.4.5.1: raw above max");
  }

  void check_timestamp(const json& when) {
    need(matches(when,
                 "[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])T([01][0-9]|2[0-3]):"
                 "[0-5][0-9]:([0-5][0-9]|60)(\\.[0-9]+)?(Z|[+-][0-9]{2}:[0-5][0-9])") &&
             !matches(when, ".*-00:?(00)?$"),
         "4.5: timestamp (RFC 3339)");
  }

  std::vector<std::string> faults_;
};

}  // namespace redress::testing
