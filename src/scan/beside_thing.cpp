// SPDX-License-Identifier: MIT
#include "scan/beside_thing.h"

#include <fmt/format.h>

#include "units/quote.h"

namespace evenspit::scan {

namespace {

// Smaller ones fix no scale, larger ones stand on no board: common practice, no source.
constexpr double least_size_m = 0.02, greatest_size_m = 0.5;

[[noreturn]] void refuse(std::string found) {
    throw QuantityError(std::move(found), "a can and how wide it is, or a block and how high it stands",
                        R"(write it like "can 73 mm" or "block 100 mm")");
}

}  // namespace

BesideThing parse_beside(std::string_view text) {
    const std::size_t from = text.find_first_not_of(' ');
    const std::size_t to = from == std::string_view::npos ? from : text.find(' ', from);
    if (to == std::string_view::npos) refuse(text.empty() ? "nothing" : in_quotes(text));
    const std::string_view word = text.substr(from, to - from);
    BesideThing thing;
    if (word == name_of(BesideThing::Kind::block)) {
        thing.kind = BesideThing::Kind::block;
    } else if (word != name_of(BesideThing::Kind::can)) {
        refuse(in_quotes(word));
    }
    thing.size_m = parse_quantity(text.substr(to + 1), Dimension::length);
    if (!(thing.size_m >= least_size_m && thing.size_m <= greatest_size_m)) {
        throw QuantityError(
            in_quotes(text),
            fmt::format("a size between {} and {}",
                        format_quantity(least_size_m, Dimension::length, UnitSystem::metric),
                        format_quantity(greatest_size_m, Dimension::length, UnitSystem::metric)),
            "look at its unit");
    }
    return thing;
}

std::string_view name_of(BesideThing::Kind kind) {
    return kind == BesideThing::Kind::can ? "can" : "block";
}

std::string words_of(const BesideThing& thing, UnitSystem units) {
    const std::string size = format_quantity(thing.size_m, Dimension::length, units);
    return thing.kind == BesideThing::Kind::can ? fmt::format("a can {} across", size)
                                                : fmt::format("a block {} high", size);
}

}  // namespace evenspit::scan
