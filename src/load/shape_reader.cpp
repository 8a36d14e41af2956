// SPDX-License-Identifier: MIT
#include "load/shape_reader.h"

#include <algorithm>

#include <fmt/format.h>

#include "body/bird.h"
#include "units/nearest.h"
#include "units/quote.h"

namespace evenspit {

const std::vector<std::string_view>& shape_keys() {
    static const std::vector<std::string_view> keys = {"stuffing"};
    return keys;
}

std::optional<Body> read_shape_body(TableReader& given, Item& item) {
    using enum Dimension;
    const std::size_t before = given.complaints().count();
    BirdOptions options;
    const auto shape = given.text("shape");
    const std::vector<std::string> species = bird_species();
    if (shape && std::find(species.begin(), species.end(), *shape) == species.end()) {
        const auto near = nearest_word(*shape, species);
        given.complain(
            "shape", in_quotes(*shape), fmt::format("one of: {}", fmt::join(species, ", ")),
            near ? fmt::format("did you mean \"{}\"?", *near) : "or scan = \"…\" for a body of your own");
    }
    options.species = shape.value_or("");
    options.mass_kg = given.quantity("mass", mass, Range::positive, Need::required).value_or(0);
    options.trussing = item.trussed ? Trussing::tight : Trussing::loose;
    options.stuffing_kg = given.quantity("stuffing", mass, Range::positive).value_or(0);
    if (given.has("stuffing") && given.has("cavity")) {
        given.complain("stuffing", fmt::format("stuffing beside cavity = {}", given.find("cavity")->shown()),
                       "one of the two", "a cavity with stuffing in it is not empty");
    }
    item.bird = true;
    if (item.name.empty()) item.name = options.species;
    if (given.complaints().count() != before) return std::nullopt;
    try {
        Body body = make_bird(options);
        body.name = item.name;
        return body;
    } catch (const InputError& error) {
        // It names the key that it minds.
        const std::string& key = error.complaints().front().key;
        complain_at(given, given.has(key) ? key : "shape", error);
        return std::nullopt;
    }
}

}  // namespace evenspit
