// SPDX-License-Identifier: MIT
#include "app/cli/common_words.h"

#include <algorithm>
#include <charconv>
#include <system_error>
#include <utility>

#include <fmt/format.h>

#include "units/error.h"
#include "units/nearest.h"
#include "units/quantity.h"

namespace evenspit {

WordSpec load_operand(std::string about) {
    return {.kind = WordSpec::Kind::operand, .names = "LOAD", .about = std::move(about), .files = "toml"};
}
WordSpec json_flag() {
    return {WordSpec::Kind::flag, "--json", "The result as one JSON object, in SI units"};
}
WordSpec quiet_flag() {
    return {WordSpec::Kind::flag, "--quiet", "No progress on standard error"};
}
WordSpec csv_flag(std::string about) {
    return {WordSpec::Kind::flag, "--csv", std::move(about)};
}
WordSpec units_option() {
    return {WordSpec::Kind::value, "--units", "metric or us (default metric)", "SYSTEM", {"metric", "us"}};
}
WordSpec output_option(std::string about) {
    return file_option("-o,--output", std::move(about));
}
WordSpec file_option(std::string names, std::string about) {
    return {WordSpec::Kind::value, std::move(names), std::move(about), "FILE", {}, "*"};
}
WordSpec mountings_option(int usual) {
    return {WordSpec::Kind::value, "--mountings",
            fmt::format("Mountings to try; 0: as written (default {})", usual), "N"};
}

std::optional<std::size_t> whole_number(std::string_view text) {
    std::size_t number = 0;
    const char* const end = text.data() + text.size();
    const auto [after, bad] = std::from_chars(text.data(), end, number);
    if (bad != std::errc() || after != end) return std::nullopt;
    return number;
}

WordSpec scan_unit_option() {
    return {WordSpec::Kind::value,
            "--scan-unit",
            "m, cm, mm, in or ft, if the format does not say",
            "UNIT",
            {"m", "cm", "mm", "in", "ft"}};
}

std::string scan_unit_of(const Words& words) {
    std::string unit = words.text("--scan-unit").value_or("");
    try {
        if (words.text("--scan-unit")) parse_length_unit(unit);
    } catch (const QuantityError& error) {
        refuse_option("--scan-unit", error.found(), error.expected(), error.mend());
    }
    return unit;
}

int mountings_of(const Words& words, int usual) {
    constexpr std::size_t most = 100'000;
    const std::optional<std::string> text = words.text("--mountings");
    if (!text) return usual;
    const std::optional<std::size_t> count = whole_number(*text);
    if (!count || *count > most)
        refuse_option("--mountings", fmt::format("'{}'", *text),
                      fmt::format("a whole number from 0 to {}", most));
    return static_cast<int>(*count);
}

Request common_request(const Words& words) {
    Request request;
    const bool json = words.flag("--json"), csv = words.flag("--csv");
    if (json && csv) throw UsageError("--json and --csv do not go together; drop one");
    request.format = json ? Format::json : csv ? Format::csv : Format::text;
    const std::string units = words.text("--units").value_or("metric");
    if (units != "metric" && units != "us")
        refuse_option("--units", fmt::format("'{}'", units), "metric or us");
    request.units = units == "us" ? UnitSystem::us : UnitSystem::metric;
    request.quiet = words.flag("--quiet");
    if (const auto output = words.text("--output")) {
        if (output->empty()) throw UsageError("--output needs the name of a file");
        request.output = *output;
    }
    return request;
}

Request load_request(const Words& words, std::string_view verb) {
    const std::string load = words.text("LOAD").value_or("");
    if (load.empty()) throw UsageError(fmt::format("{0} needs a load file: {0} LOAD.toml", verb));
    Request request = common_request(words);
    request.inputs = {load};
    return request;
}

double option_quantity(const std::string& option, const std::string& text, Dimension dimension, Range range) {
    try {
        return parse_quantity_within(text, dimension, range);
    } catch (const QuantityError& error) {
        refuse_option(option, error.found(), error.expected(), error.mend());
    }
}

std::string one_of(const std::string& option, const std::string& word,
                   const std::vector<std::string>& known) {
    if (std::find(known.begin(), known.end(), word) != known.end()) return word;
    throw UsageError(fmt::format("{}: found '{}'; expected one of {}{}", option, word, fmt::join(known, ", "),
                                 did_you_mean(word, known)));
}

std::string did_you_mean(const std::string& word, const std::vector<std::string>& known) {
    const std::optional<std::string> nearest = nearest_word(word, known);
    return nearest ? fmt::format("; did you mean '{}'?", *nearest) : std::string();
}

void refuse_option(const std::string& option, std::string found, std::string expected, std::string mend) {
    Complaint complaint;
    complaint.key = option;
    complaint.found = std::move(found);
    complaint.expected = std::move(expected);
    complaint.mend = std::move(mend);
    throw UsageError(complaint.text());
}

}  // namespace evenspit
