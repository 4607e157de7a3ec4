// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/scoring/global_rating.hpp"

#include "sim/basics/json_reader.hpp"

namespace redress::scoring {

using nlohmann::json;

namespace {

constexpr std::size_t kMostRatings = 100;
constexpr std::size_t kByBytes = 200;
constexpr std::size_t kRemarkBytes = 4000;
constexpr NamedValue<Rating> kRatingWords[] = {{"fail", Rating::fail},
                                               {"borderline", Rating::borderline},
                                               {"pass", Rating::pass},
                                               {"good", Rating::good},
                                               {"excellent", Rating::excellent}};
enum class Format : std::uint8_t { ratings };
constexpr NamedValue<Format> kFormatWords[] = {{"redress-ratings", Format::ratings}};

}  // namespace

Result<std::vector<GlobalRating>> read_ratings_text(std::string_view text) {
  const Result<json> parsed = parse_json(text);
  if (!parsed) return parsed.problems();
  Problems problems;
  ObjectReader reader(parsed.value(), "", problems);
  reader.required_enumerated("format", kFormatWords);
  reader.required_integer("version", 1, 1);
  std::vector<GlobalRating> ratings;
  if (const json* list = reader.required_array("ratings", 0, kMostRatings)) {
    for (std::size_t i = 0; i < list->size(); ++i) {
      ObjectReader one((*list)[i], pointer_to(reader.place_of("ratings"), i), problems);
      GlobalRating rating;
      rating.rating = one.required_enumerated("rating", kRatingWords).value_or(Rating::fail);
      rating.by = one.required_string("by", kByBytes).value_or("");
      rating.remark = one.string("remark", kRemarkBytes);
      one.finish();
      ratings.push_back(std::move(rating));
    }
  }
  reader.finish();
  if (!problems.empty()) return problems;
  return ratings;
}

json to_json(const std::vector<GlobalRating>& ratings) {
  json list = json::array();
  for (const GlobalRating& r : ratings) {
    list.push_back(
        {{"rating", find_name(kRatingWords, r.rating)}, {"by", r.by}, {"remark", r.remark}});
  }
  return list;
}

}  // namespace redress::scoring
