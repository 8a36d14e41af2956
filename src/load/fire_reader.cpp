// SPDX-License-Identifier: MIT
#include "load/fire_reader.h"

#include <algorithm>
#include <variant>

namespace evenspit {

namespace {

std::optional<CookBasting> read_basting(TableReader& cook) {
    auto given = cook.table("baste");
    if (!given) return std::nullopt;
    CookBasting basting;
    const auto every_s = given->quantity("every");
    basting.from_s = given->quantity("from");
    basting.open_s = given->quantity_or_usual("open");
    given->refuse_unknown();
    if (!every_s) return std::nullopt;
    basting.every_s = *every_s;
    if (basting.open_s >= basting.every_s) {
        given->complain(given->has("open") ? "open" : "every", "a lid that is never shut again",
                        "a time open that is shorter than from one opening to the next",
                        R"(write baste = { every = "20 min", open = "30 s" })");
        return std::nullopt;
    }
    return basting;
}

}  // namespace

CookFire read_fire(TableReader& cook, std::optional<double> cooker_temperature_k) {
    CookFire fire;
    fire.fuel = cook.choice_or_usual("fuel", fuel_words());
    fire.mass_kg = cook.quantity("fuel_mass");
    if (fire.mass_kg && fire.fuel == FuelKind::gas) {
        cook.complain("fuel_mass", "a mass of gas", "none beside fuel = \"gas\", which does not burn down",
                      "take it out");
    }
    fire.coals = cook.choice_or_usual("coals", coal_words());
    fire.preheat_k = cook.quantity("preheat");
    if (fire.preheat_k && cooker_temperature_k && *fire.preheat_k < *cooker_temperature_k) {
        cook.complain("preheat", "less than cooker_temperature", "at least as hot as the cook itself",
                      "leave it out to preheat to cooker_temperature");
    }
    fire.vents_left = cook.choice_or_usual("vents", vents_words());
    fire.weather_k = cook.quantity_or_usual("weather");
    fire.baste = read_basting(cook);
    return fire;
}

void refuse_coals_without_bed(TableReader& cook, const CookFire& fire, const Cooker& cooker) {
    const bool bed = std::any_of(cooker.surfaces.begin(), cooker.surfaces.end(), [](const CookerSurface& s) {
        return s.fire && std::holds_alternative<BoxShape>(s.shape);
    });
    if (fire.coals == CoalPlace::as_drawn || bed) return;
    cook.complain("coals", "a place for coals, where the cooker has no bed for them",
                  "a cooker with a surface of shape \"box\" and fire = true",
                  "give it one, or leave coals out");
}

void read_cooker_heat(TableReader& given, Cooker& cooker) {
    if (const auto wall = given.choice("wall", wall_words())) cooker.wall = *wall;
    if (const auto slot = given.quantities("slot")) {
        if ((*slot)[0] < 0 || (*slot)[1] < 0) {
            given.complain("slot", "a length below 0", "the width and height of one of the rod's two slots",
                           R"(write slot = ["25 mm", "40 mm"])");
        } else {
            cooker.slot_m = {(*slot)[0], (*slot)[1]};
        }
    }
}

}  // namespace evenspit
