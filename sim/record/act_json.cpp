// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/record/act_json.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <iterator>
#include <utility>

#include "sim/basics/json_reader.hpp"
#include "sim/record/act_fields.hpp"

namespace redress::record {

namespace {

using nlohmann::json;
using nlohmann::ordered_json;

/// Bases in degrees (ISO 8429), in the order of BaseWord. In and out change places on the left.
constexpr std::array<double, 4> kRightBasesDeg{0.0, 180.0, 90.0, 270.0};
constexpr std::array<double, 4> kLeftBasesDeg{180.0, 0.0, 90.0, 270.0};

constexpr const std::array<double, 4>& bases_of(Eye eye) {
  return eye == Eye::right ? kRightBasesDeg : kLeftBasesDeg;
}

/// A number as short as can be that reads back as the same bits; the sign of -0 counts too.
json to_exact_number(double value) {
  const bool minus_zero = value == 0.0 && std::bit_cast<std::uint64_t>(value) != 0;
  return minus_zero ? json(value) : to_json_number(value);
}

template <class E, std::size_t N>
std::string list_names(const NamedValue<E> (&names)[N]) {
  std::string all;
  for (const NamedValue<E>& each : names) all.append(all.empty() ? "" : ", ").append(each.name);
  return all;
}

/// Writes the fields into an object in the order of the list.
class FieldWriter {
 public:
  explicit FieldWriter(ordered_json& object) : object_(object) {}

  template <class E, std::size_t N>
  void word(const char* key, const NamedValue<E> (&names)[N], E value, Need) {
    object_[key] = std::string(find_name(names, value));
  }
  template <class E, std::size_t N>
  void word(const char* key, const NamedValue<E> (&names)[N], const std::optional<E>& value) {
    if (value) word(key, names, *value, Need::required);
  }
  template <class E, std::size_t N>
  void word_text(const char* key, const NamedValue<E> (&)[N], const std::string& value) {
    if (!value.empty()) object_[key] = value;
  }
  template <class E, std::size_t N>
  void word_list(const char* key, const NamedValue<E> (&names)[N], const std::vector<E>& values) {
    if (values.empty()) return;
    ordered_json list = ordered_json::array();
    for (const E value : values) list.push_back(std::string(find_name(names, value)));
    object_[key] = std::move(list);
  }
  void number(const char* key, Range, double value, Need) { object_[key] = to_exact_number(value); }
  void number(const char* key, Range range, const std::optional<double>& value) {
    if (value) number(key, range, *value, Need::required);
  }
  void integer(const char* key, std::int64_t, std::int64_t, std::int32_t value, Need) {
    object_[key] = value;
  }
  void integer(const char* key, std::int64_t, std::int64_t,
               const std::optional<std::int32_t>& value) {
    if (value) object_[key] = *value;
  }
  void boolean(const char* key, bool value, Need) { object_[key] = value; }
  void boolean(const char* key, const std::optional<bool>& value) {
    if (value) object_[key] = *value;
  }
  void text(const char* key, std::size_t, const std::string& value) {
    if (!value.empty()) object_[key] = value;
  }
  void answer_key(const char* key, const std::string& value) { object_[key] = value; }
  void base(Eye eye, double degrees) {
    const auto& bases = bases_of(eye);
    for (const auto& [name, value] : kBaseWords) {
      // Bits, not values: -0 is written as a number so that it comes back as it was.
      if (std::bit_cast<std::uint64_t>(bases[static_cast<std::size_t>(value)]) ==
          std::bit_cast<std::uint64_t>(degrees)) {
        object_["base"] = std::string(name);
        return;
      }
    }
    object_["base_deg"] = to_exact_number(degrees);
  }
  void object(const char* key, Finding& finding) {
    ordered_json inner = ordered_json::object();
    FieldWriter writer(inner);
    list_fields(writer, finding);
    object_[key] = std::move(inner);
  }

 private:
  ordered_json& object_;
};

/// Reads the fields; what is absent or wrong keeps its default.
class FieldReader {
 public:
  explicit FieldReader(ObjectReader& object) : object_(object) {}

  template <class E, std::size_t N>
  void word(const char* key, const NamedValue<E> (&names)[N], E& value, Need need) {
    if (need == Need::required) {
      value = object_.required_enumerated(key, names).value_or(value);
    } else {
      value = object_.enumerated(key, names, value);
    }
  }
  template <class E, std::size_t N>
  void word(const char* key, const NamedValue<E> (&names)[N], std::optional<E>& value) {
    value = object_.optional_enumerated(key, names);
  }
  template <class E, std::size_t N>
  void word_text(const char* key, const NamedValue<E> (&names)[N], std::string& value) {
    const std::optional<E> word = object_.optional_enumerated(key, names);
    if (word) value = find_name(names, *word);
  }
  // Each once, in the order of the names: what is the same reads as the same.
  template <class E, std::size_t N>
  void word_list(const char* key, const NamedValue<E> (&names)[N], std::vector<E>& values) {
    const json* const list = object_.array(key, 1, N);
    if (list == nullptr) return;
    std::array<bool, N> named{};
    for (std::size_t i = 0; i < list->size(); ++i) {
      const auto is_it = [&](const NamedValue<E>& n) { return (*list)[i] == json(n.name); };
      const auto found = std::find_if(std::begin(names), std::end(names), is_it);
      const auto report = [&](const std::string& what) {
        object_.problems().push_back({pointer_to(object_.place_of(key), i), what});
      };
      if (found == std::end(names)) {
        report("is unknown: " + short_text((*list)[i]) + "; allowed: one of " + list_names(names));
        continue;
      }
      bool& seen = named[static_cast<std::size_t>(found - std::begin(names))];
      if (seen) report("stands twice: " + short_text((*list)[i]) + "; allowed: once");
      seen = true;
    }
    for (std::size_t i = 0; i < N; ++i) {
      if (named[i]) values.push_back(names[i].value);
    }
  }
  void number(const char* key, Range range, double& value, Need need) {
    if (need == Need::required) {
      value = object_.required_number(key, range.low, range.high).value_or(value);
    } else {
      value = object_.number(key, range.low, range.high, value);
    }
  }
  void number(const char* key, Range range, std::optional<double>& value) {
    value = object_.optional_number(key, range.low, range.high);
  }
  void integer(const char* key, std::int64_t low, std::int64_t high, std::int32_t& value, Need) {
    value = static_cast<std::int32_t>(object_.integer(key, low, high, value));
  }
  void integer(const char* key, std::int64_t low, std::int64_t high,
               std::optional<std::int32_t>& value) {
    const std::optional<std::int64_t> read = object_.optional_integer(key, low, high);
    if (read) value = static_cast<std::int32_t>(*read);
  }
  void boolean(const char* key, bool& value, Need) {
    value = object_.required_boolean(key).value_or(value);
  }
  void boolean(const char* key, std::optional<bool>& value) {
    value = object_.optional_boolean(key);
  }
  void text(const char* key, std::size_t longest, std::string& value) {
    value = object_.optional_string(key, longest).value_or(std::string());
  }
  void answer_key(const char* key, std::string& value) {
    const std::optional<std::string> read = object_.required_string(key, kLongestQuestion);
    if (!read) return;
    value = *read;
    const bool fits = std::all_of(value.begin(), value.end(), [](char c) {
      return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
    });
    if (value.empty() || !fits) {
      object_.report(key, "is not the key of a question: " + short_text(json(value)) +
                              "; allowed: 1 to 80 of the characters a to z, 0 to 9 and _");
    }
  }
  void base(Eye eye, double& degrees) {
    const bool word_given = object_.has("base");
    const bool angle_given = object_.has("base_deg");
    const std::optional<BaseWord> word = object_.optional_enumerated("base", kBaseWords);
    const std::optional<double> angle =
        object_.optional_number("base_deg", kBaseAnglesDeg.low, kBaseAnglesDeg.high);
    if (word_given == angle_given) {
      object_.report("base", word_given
                                 ? "is given together with base_deg; allowed: one of the two"
                                 : "is missing; it is required, as base (in, out, up, down) or "
                                   "as base_deg");
    } else if (word) {
      degrees = bases_of(eye)[static_cast<std::size_t>(*word)];
    } else if (angle) {
      degrees = *angle;
    } else if (object_.raw(word_given ? "base" : "base_deg")->is_null()) {
      object_.report(word_given ? "base" : "base_deg", "is null; allowed: a base");
    }
  }
  void object(const char* key, Finding& finding) {
    ObjectReader inner = object_.required_object(key);
    FieldReader reader(inner);
    list_fields(reader, finding);
    inner.finish();
  }

 private:
  ObjectReader& object_;
};

/// The content of the kind with this index in ActContent, with its defaults.
template <std::size_t... I>
ActContent make_content(std::size_t index, std::index_sequence<I...>) {
  ActContent content;
  ((index == I ? static_cast<void>(content.emplace<I>()) : static_cast<void>(0)), ...);
  return content;
}

struct ActKind {
  std::size_t index = 0;
  bool operator==(const ActKind&) const = default;
};

/// kActNames as the words that "act" may be.
constexpr auto make_act_words() {
  std::array<NamedValue<ActKind>, std::size(kActNames)> words{};
  for (std::size_t i = 0; i < words.size(); ++i) words[i] = {kActNames[i], {i}};
  return words;
}

Problems with_place(Problems problems, std::string_view place) {
  if (place.empty()) return problems;
  for (Problem& problem : problems) {
    problem.place = std::string(place) + (problem.place.empty() ? "" : " " + problem.place);
  }
  return problems;
}

}  // namespace

ordered_json to_ordered_json(const Act& act) {
  ordered_json object = ordered_json::object();
  object["at_ms"] = act.at_ms;
  object["act"] = std::string(kActNames[act.content.index()]);
  FieldWriter writer(object);
  ActContent content = act.content;  // the lists of fields serve reading too and want variables
  std::visit([&](auto& fields) { list_fields(writer, fields); }, content);
  return object;
}

json to_json(const Act& act) { return to_ordered_json(act); }

std::string format_act(const Act& act) {
  return to_ordered_json(act).dump(-1, ' ', false, ordered_json::error_handler_t::replace);
}

Result<Act> parse_act(const json& value, std::string_view place) {
  static constexpr auto kWords = make_act_words();
  Problems problems;
  ObjectReader object(value, "", problems);
  Act act;
  act.at_ms = object.required_integer("at_ms", 0, kLatestTick).value_or(0);
  // An unknown act has unknown keys: only its name is reported.
  const json* const name = object.raw("act");
  const auto* const word =
      name == nullptr || !name->is_string()
          ? kWords.end()
          : std::find_if(kWords.begin(), kWords.end(), [&](const auto& candidate) {
              return candidate.name == name->get_ref<const std::string&>();
            });
  if (word == kWords.end()) {
    if (!object.is_object()) return with_place(std::move(problems), place);
    std::string allowed;
    for (const std::string_view act_name : kActNames) {
      allowed.append(allowed.empty() ? "" : ", ").append(act_name);
    }
    object.report("act", (name == nullptr ? std::string("is missing; it is required")
                                          : "is unknown: " + short_text(*name)) +
                             "; allowed: one of " + allowed);
    return with_place(std::move(problems), place);
  }
  act.content =
      make_content(word->value.index, std::make_index_sequence<std::variant_size_v<ActContent>>());
  FieldReader reader(object);
  std::visit([&](auto& fields) { list_fields(reader, fields); }, act.content);
  object.finish();
  if (!problems.empty()) return with_place(std::move(problems), place);
  return act;
}

Problems check_act(const Act& act) {
  const Result<Act> read = parse_act(to_json(act));
  return read.ok() ? Problems{} : read.problems();
}

}  // namespace redress::record
