// SPDX-License-Identifier: MIT
#include "load/thing.h"

#include <fmt/format.h>

#include "load/assembly.h"

namespace evenspit {
namespace {

std::string limb_name(const Thing& thing, const Assembly& assembly) {
    if (thing.index >= assembly.items.size()) return "";
    const Item& item = assembly.items[thing.index];
    const body::Body& body = item.body->body;
    const std::vector<body::SwungLimb>& limbs = body.swung.empty() ? body.if_undone : body.swung;
    return thing.part < limbs.size() ? fmt::format("{}, {} swung out", item.name, limbs[thing.part].name)
                                     : "";
}

}  // namespace

ForkSection fork_section(const std::vector<Fork>& forks, std::size_t index) {
    ForkSection section{"fork", 0};
    if (index >= forks.size()) return {"fork", index + 1};
    if (forks[index].kind == ForkKind::bracket) section.name = "bracket";
    if (forks[index].kind == ForkKind::basket) section.name = "basket";
    for (std::size_t f = 0; f <= index; ++f) section.number += forks[f].kind == forks[index].kind ? 1U : 0U;
    return section;
}

std::string fork_name(const std::vector<Fork>& forks, std::size_t index) {
    const ForkSection section = fork_section(forks, index);
    return fmt::format("{} {}", section.name, section.number);
}

std::string_view tine_word(const std::vector<Fork>& forks, std::size_t index) {
    return index < forks.size() && forks[index].kind == ForkKind::bracket ? "leg" : "tine";
}

std::string counterweight_name(std::size_t index) {
    return fmt::format("counterweight {}", index + 1);
}

std::string thing_name(const Thing& thing, const Assembly& assembly) {
    switch (thing.kind) {
        case Thing::Kind::item:
            return thing.index < assembly.items.size() ? assembly.items[thing.index].name : "";
        case Thing::Kind::limb:
            return limb_name(thing, assembly);
        case Thing::Kind::fork:
            return fork_name(assembly.forks, thing.index);
        case Thing::Kind::tine:
            return fmt::format("{} {} of {}", tine_word(assembly.forks, thing.index), thing.part + 1,
                               fork_name(assembly.forks, thing.index));
        case Thing::Kind::counterweight:
            return counterweight_name(thing.index);
        case Thing::Kind::rod:
            return "rod";
        case Thing::Kind::motor:
            return "motor";
        case Thing::Kind::support:
            return thing.index == 0 ? "drive seat" : "far bearing";
        case Thing::Kind::surface:
            return thing.index < assembly.cooker.surfaces.size() ? assembly.cooker.surfaces[thing.index].name
                                                                 : "";
        case Thing::Kind::none:
            break;
    }
    return "";
}

}  // namespace evenspit
