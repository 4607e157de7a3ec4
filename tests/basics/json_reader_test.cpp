// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Strict reading: grammar after RFC 8259, limits, and the messages of the object reader.
#include "sim/basics/json_reader.hpp"

#include <catch2/catch.hpp>
#include <string>
#include <vector>

using namespace redress;
using nlohmann::json;

namespace {

Problem only_problem(std::string_view text) {
  const auto result = parse_json(text);
  REQUIRE_FALSE(result.ok());
  REQUIRE(result.problems().size() == 1);
  return result.problems()[0];
}

bool says(const Problem& problem, const std::string& words) {
  INFO(problem.place + ": " + problem.message);
  CHECK(problem.message.find(words) != std::string::npos);
  return problem.message.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("well-formed JSON is read as it stands") {
  const std::string text = R"({"a": [1, -2.5, true, null, "x\u00e9"], "b": {"c": 1e-3}})";
  const auto result = parse_json(text);
  REQUIRE(result.ok());
  REQUIRE(result.value() == json::parse(text));
}

TEST_CASE("a whole text may be one scalar") {
  for (const std::string text : {"1", "null", "\"x\"", " true\n"}) {
    const auto result = parse_json(text);
    REQUIRE(result.ok());
    REQUIRE(result.value() == json::parse(text));
  }
}

TEST_CASE("what is no JSON is refused with line and column") {
  REQUIRE(says(only_problem(""), "line 1, column 1"));
  REQUIRE(says(only_problem("{\n  \"a\": nan}"), "line 2, column 9"));
  REQUIRE(says(only_problem("{\"a\": NaN}"), "column 7"));
  REQUIRE(says(only_problem("{\"a\": Infinity}"), "is not JSON"));
  REQUIRE(says(only_problem("{\"a\": -Infinity}"), "is not JSON"));
  REQUIRE(says(only_problem("{\"a\": 1e999}"), "found 1e999; allowed here: a number of at most"));
  REQUIRE(says(only_problem("{\"a\": -1e999}"), "found -1e999; allowed here: a number of at most"));
  REQUIRE(says(only_problem("{} x"), "column 4"));
  REQUIRE(says(only_problem("{}{}"), "is not JSON"));
  REQUIRE(says(only_problem("{\"a\": 1,}"), "is not JSON"));
  REQUIRE(says(only_problem("// remark\n{}"), "is not JSON"));
  REQUIRE(says(only_problem("{'a': 1}"), "is not JSON"));
  REQUIRE(says(only_problem("{\"a\": 01}"), "is not JSON"));
  REQUIRE(says(only_problem("\"\xc3\x28\""), "is not JSON"));  // a lead byte without its follower
  REQUIRE(says(only_problem("\"\xed\xa0\x80\""), "is not JSON"));  // a surrogate
  REQUIRE(says(only_problem("\"\xff\""), "is not JSON"));
}

TEST_CASE("what is no JSON is told as place, what is there and what may be") {
  struct Row {
    const char* text;
    const char* place;
    const char* message;
  };
  // RFC 8259, sections 2 to 7, has what is allowed where.
  const std::vector<Row> rows{
      {"", "",
       "line 1, column 1: the text ends; allowed here: a text in double quotes, a number, "},
      {"hello", "", "line 1, column 1: found hello; allowed here: a text in double quotes, "},
      {"{\"a\": {\"b\": 1,}}", "/a", "column 15: found }; allowed here: a name in double quotes"},
      {"{\"a\" 1}", "", "column 6: found 1; allowed here: : between a name and its value"},
      {"{\"a\": 1 \"b\": 2}", "", "; allowed here: , or } after a value"},
      {"[1, 2", "", "the text ends; allowed here: , or ] after a value"},
      {"{} x", "", "found x; allowed here: nothing after the one value"},
      {"{\"a\": 1.2.3}", "", "found 1.2.3; allowed here: , or } after a value"},
      {"[-x]", "", "found -x; allowed here: a number such as"},
      {"[\"a\nb\"]", "", "allowed here: such a character written as an escape"},
      {"[\"a", "", "a text without its closing quote; allowed here: \" at the end of a text"},
      {"[\"\\q\"]", "", "an escape that JSON does not have; allowed here: \\\" "},
      {"[\"\\u12\"]", "", "without four hexadecimal digits; allowed here: \\u0000 to"},
      {"[\"\xff\"]", "", "bytes that are not UTF-8; allowed here: text in UTF-8"},
  };
  for (const Row& row : rows) {
    INFO(row.text);
    const auto result = parse_json(row.text);
    REQUIRE_FALSE(result.ok());
    REQUIRE(result.problems().size() == 1);
    INFO(result.problems()[0].message);
    CHECK(result.problems()[0].place == row.place);
    CHECK(says(result.problems()[0], row.message));
    // Nothing of the library's own way of speaking.
    for (const char* word : {"syntax error", "parsing", "unexpected", "literal", "last read"}) {
      CHECK(result.problems()[0].message.find(word) == std::string::npos);
    }
  }
}

TEST_CASE("a NUL byte does not hide what follows it") {
  using namespace std::string_literals;
  REQUIRE(says(only_problem("{}\0{\"a\": 1}"s), "the byte 0x00"));
  REQUIRE(says(only_problem("{}\0"s), "line 1, column 3"));
}

TEST_CASE("a message about bad bytes is itself printable") {
  const Problem problem = only_problem("\"\xff\x01");
  for (const char c : problem.message) REQUIRE((c >= 0x20 && c < 0x7f));
}

TEST_CASE("a repeated key is refused where it stands") {
  const Problem problem = only_problem("{\"a\": [0, {\"b\": 1,\n \"b\": 1}]}");
  REQUIRE(problem.place == "/a/1/b");
  REQUIRE(says(problem, "twice"));
  REQUIRE(says(problem, "line 2"));
  REQUIRE(parse_json(R"([{"b": 1}, {"b": 1}])").ok());
}

TEST_CASE("nesting is limited before anything deep is built") {
  const auto nested = [](std::size_t levels) {
    return std::string(levels, '[') + std::string(levels, ']');
  };
  REQUIRE(parse_json(nested(32)).ok());
  REQUIRE(says(only_problem(nested(33)), "column 33; allowed: 32 levels"));
  REQUIRE(says(only_problem(std::string(100000, '[')), "nested too deeply"));
  std::string objects;
  for (int i = 0; i < 100000; ++i) objects += "{\"a\":";
  REQUIRE(says(only_problem(objects), "nested too deeply"));
}

TEST_CASE("size is limited") {
  JsonLimits limits;
  limits.size_bytes = 10;
  REQUIRE(parse_json("\"12345678\"", limits).ok());
  const auto result = parse_json("\"123456789\"", limits);
  REQUIRE_FALSE(result.ok());
  REQUIRE(says(result.problems()[0], "11 bytes; allowed: 10"));
}

TEST_CASE("values in range are read and absent ones fall back") {
  const json value = {{"x", 2.5}, {"n", 5.0}, {"b", true}, {"s", "abc"}, {"nothing", nullptr}};
  Problems problems;
  ObjectReader reader(value, "/p", problems);
  REQUIRE(reader.number("x", 2.5, 2.5, 0) == 2.5);
  REQUIRE(reader.number("absent", 0, 1, 0.25) == 0.25);
  REQUIRE(reader.integer("n", 5, 5, 0) == 5);
  REQUIRE(reader.boolean("b", false));
  REQUIRE(reader.string("s", 3) == "abc");
  REQUIRE_FALSE(reader.optional_number("nothing", 0, 1).has_value());
  REQUIRE_FALSE(reader.optional_number("missing", 0, 1).has_value());
  reader.finish();
  REQUIRE(problems.empty());
}

TEST_CASE("each wrong value is reported with place, value and what is allowed") {
  const json value = {{"low", -1},      {"text", "7"},    {"half", 1.5}, {"null", nullptr},
                      {"long", "abcd"}, {"word", "blue"}, {"pair", {1}}, {"huge", 1e300}};
  Problems problems;
  ObjectReader reader(value, "/p", problems);
  constexpr NamedValue<int> kWords[] = {{"red", 1}, {"green", 2}};
  REQUIRE(reader.number("low", 0, 10, 3) == 3);
  REQUIRE(reader.number("text", 0, 10, 3) == 3);
  REQUIRE(reader.integer("half", 0, 10, 3) == 3);
  REQUIRE(reader.integer("huge", 0, 10, 3) == 3);
  REQUIRE(reader.number("null", 0, 10, 3) == 3);
  REQUIRE(reader.string("long", 3, "d") == "d");
  REQUIRE(reader.enumerated("word", kWords, 2) == 2);
  REQUIRE(reader.array("pair", 2, 2) == nullptr);
  REQUIRE_FALSE(reader.required_number("absent", 0, 1).has_value());
  REQUIRE_FALSE(reader.object("low").is_object());
  const Problems expected{
      {"/p/low", "is out of range: -1; allowed: 0 to 10"},
      {"/p/text", "is a string: \"7\"; allowed: a number from 0 to 10"},
      {"/p/half", "is not whole: 1.5; allowed: a whole number from 0 to 10"},
      {"/p/huge", "is out of range: 1e+300; allowed: a whole number from 0 to 10"},
      {"/p/null", "is null: null; allowed: a number from 0 to 10"},
      {"/p/long", "is too long: 4 bytes; allowed: a string of at most 3 bytes"},
      {"/p/word", "is unknown: \"blue\"; allowed: one of red, green"},
      {"/p/pair", "has 1 items: [1]; allowed: an array of 2 items"},
      {"/p/absent", "is missing; it is required"},
      {"/p/low", "is a number: -1; allowed: an object"}};
  REQUIRE(problems == expected);
}

TEST_CASE("unknown keys are reported, with the nearest one when it looks like a typing error") {
  const json value = {{"distance_dp", 1}, {"zebra", 1}, {"near_pd", 1}};
  Problems problems;
  ObjectReader reader(value, "", problems);
  reader.number("distance_pd", 0, 1, 0);
  reader.number("near_pd", 0, 1, 0);
  reader.finish();
  REQUIRE(problems.size() == 2);
  REQUIRE(problems[0].place == "/distance_dp");
  REQUIRE(says(problems[0], "did you mean distance_pd?"));
  REQUIRE(says(problems[0], "allowed: distance_pd, near_pd"));
  REQUIRE(problems[1].place == "/zebra");
  REQUIRE(problems[1].message.find("did you mean") == std::string::npos);
}

TEST_CASE("a required object that is missing is one problem, not one for each of its keys") {
  const json value = json::object();
  Problems problems;
  ObjectReader reader(value, "", problems);
  reader.required_object("part").required_number("x", 0, 1);
  REQUIRE(problems == Problems{{"/part", "is missing; it is required"}});
}

TEST_CASE("places are JSON pointers on one line") {
  // Escapes of RFC 6901, section 3.
  REQUIRE(pointer_to("/a", "m~n/o") == "/a/m~0n~1o");
  REQUIRE(pointer_to("", std::size_t{3}) == "/3");
  REQUIRE(pointer_to("", "two\nlines") == "/two?lines");
  REQUIRE(pointer_to("", std::string(1000, 'k')).size() < 100);
}

TEST_CASE("long values are cut in messages") {
  REQUIRE(short_text(json(std::string(100000, 'x'))).size() < 100);
  REQUIRE(short_text(json(std::vector<int>(100000, 1))) == "[100000 items]");
  REQUIRE(to_text(4.0) == "4");
  REQUIRE(to_text(-0.1) == "-0.1");
}
