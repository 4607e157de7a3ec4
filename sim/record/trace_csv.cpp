// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/record/trace_csv.hpp"

#include <array>
#include <string_view>

#include "sim/basics/fixed_columns.hpp"

namespace redress::record {

namespace {

constexpr std::size_t kBlock = 1U << 18;                        // bytes gathered before one write
constexpr std::size_t kLongestRow = 19 * (kLongestNumber + 1);  // 19 columns, none longer

constexpr std::string_view text_of(WhichEyes eyes) {
  switch (eyes) {
    case WhichEyes::none: return "none";
    case WhichEyes::right: return "right";
    case WhichEyes::left: return "left";
    case WhichEyes::both: return "both";
  }
  return "none";
}

char* put_angle(char* to, double degrees) {
  to = write_fixed<5>(to, degrees);
  *to = ',';
  return to + 1;
}

char* put_number(char* to, double value) {
  to = write_fixed<4>(to, value);
  *to = ',';
  return to + 1;
}

char* put_yes(char* to, bool value) { return write_text(to, value ? "1," : "0,"); }

}  // namespace

void append_trace_header(std::string& text) {
  text.append(
      "t_ms,right_horizontal_deg,right_vertical_deg,right_torsion_deg,left_horizontal_deg,"
      "left_vertical_deg,left_torsion_deg,right_covered,left_covered,fixing,fused,"
      "accommodation_d,right_pupil_mm,left_pupil_mm,right_lid_open_fraction,"
      "left_lid_open_fraction,suppressed,right_listing_deg,left_listing_deg\n");
}

void append_trace_row(std::string& text, const Observation& observation) {
  const PerEye<EyeObservation>& eye = observation.eye;
  std::array<char, kLongestRow> row;
  char* end = write_integer(row.data(), observation.at_ms);
  end = write_text(end, ",");
  for (const Eye side : kBothEyes) {
    end = put_angle(end, eye[side].horizontal_deg);
    end = put_angle(end, eye[side].vertical_deg);
    end = put_angle(end, eye[side].torsion_deg);
  }
  end = put_yes(end, eye.right.covered);
  end = put_yes(end, eye.left.covered);
  end = write_text(end, text_of(observation.fixing));
  end = write_text(end, ",");
  end = put_yes(end, observation.fused);
  end = put_number(end, observation.accommodation_d);
  end = put_number(end, eye.right.pupil_mm);
  end = put_number(end, eye.left.pupil_mm);
  end = put_number(end, eye.right.lid_open_fraction);
  end = put_number(end, eye.left.lid_open_fraction);
  end = write_text(end, text_of(observation.suppressed));
  for (const Eye side : kBothEyes) {
    end = write_text(end, ",");
    end = write_fixed<5>(end, eye[side].listing_deg);
  }
  end = write_text(end, "\n");
  text.append(row.data(), static_cast<std::size_t>(end - row.data()));
}

TraceWriter::TraceWriter(const std::string& path) : file_(path, Durability::crash) {
  buffer_.reserve(kBlock + kLongestRow);
  append_trace_header(buffer_);
}

void TraceWriter::row(const Observation& observation) {
  append_trace_row(buffer_, observation);
  if (buffer_.size() < kBlock) return;
  file_.write(buffer_);
  buffer_.clear();
}

std::optional<Problem> TraceWriter::commit() {
  file_.write(buffer_);
  buffer_.clear();
  return file_.commit();
}

}  // namespace redress::record
