// SPDX-License-Identifier: MIT
#include "app/viewer/dress.h"

namespace evenspit::viewer {

Dress dress_of(Matter matter, const Look& look) {
    const bool through_skin = look.through_skin;
    switch (matter) {
        case Matter::skin:
            if (through_skin) {
                return {.base = {0.62, 0.36, 0.20},
                        .gloss = 0.15F,
                        .wrap = 0.4F,
                        .clear = static_cast<float>(look.skin_opacity),
                        .edge = 0.85F};
            }
            return {.base = {0.66, 0.385, 0.20}, .gloss = 0.22F, .grain = 0.34F, .wrap = 0.35F};
        case Matter::bone:
            return {.base = {0.84, 0.79, 0.66}, .gloss = 0.12F, .wrap = 0.2F};
        case Matter::hollow:
            return {.base = {0.16, 0.35, 0.52}, .gloss = 0.05F, .wrap = 0.3F, .clear = 0.20F, .edge = 0.5F};
        case Matter::stuffing:
            return {.base = {0.45, 0.42, 0.15}, .grain = 0.4F, .wrap = 0.2F, .clear = 0.55F, .edge = 0.3F};
        case Matter::swung:
            return {.base = {0.66, 0.30, 0.12}, .wrap = 0.3F, .clear = 0.10F, .edge = 0.55F};
        case Matter::rod:
            return {.base = {0.46, 0.48, 0.51}, .gloss = 0.75F};
        case Matter::fork:
            return {.base = {0.30, 0.34, 0.40}, .gloss = 0.70F};
        case Matter::weight:
            return {.base = {0.52, 0.36, 0.10}, .gloss = 0.60F};
        case Matter::motor:
            if (looks_past_motor(look.camera.forward()))
                return {.base = {0.075, 0.105, 0.125}, .clear = 0.10F, .edge = 0.5F};
            return {.base = {0.075, 0.105, 0.125}, .gloss = 0.35F};
        case Matter::support:
            return {.base = {0.16, 0.18, 0.20}, .gloss = 0.4F};
        case Matter::wall:
            return {.base = {0.245, 0.255, 0.265}, .gloss = 0.08F, .wrap = 0.2F};
        case Matter::coal:
            return {.base = {0.050, 0.045, 0.045}, .gloss = 0.05F, .glow = 0.22F};
        case Matter::ember:
            return {.base = {0.085, 0.070, 0.062}, .glow = 0.9F, .grain = 0.5F};
        case Matter::ground:
            return {.base = {0.42, 0.39, 0.33}, .grain = 0.2F};
        case Matter::strike:
            return {.base = {0.80, 0.02, 0.01}, .wrap = 0.6F, .clear = 0.22F, .edge = 0.55F};
        case Matter::ghost:
            return {.base = {0.30, 0.16, 0.42}, .wrap = 0.5F, .clear = 0.16F, .edge = 0.70F};
        case Matter::envelope:
            return {.base = {0.02, 0.30, 0.42}, .wrap = 0.5F, .clear = 0.05F, .edge = 0.50F};
    }
    return {.base = {0.5, 0.5, 0.5}};
}

std::array<std::uint8_t, 4> tint_of(scene::Tissue tissue) {
    switch (tissue) {
        case scene::Tissue::skin:
            return {0, 0, 0, 0};
        case scene::Tissue::cut_flesh:
            return {108, 26, 22, 235};
        case scene::Tissue::browned_flesh:
            return {96, 58, 32, 215};
        case scene::Tissue::bone:
            return {214, 196, 158, 255};
        case scene::Tissue::fat:
            return {206, 172, 122, 225};
    }
    return {0, 0, 0, 0};
}

const std::array<DoneColour, 4>& done_colours() {
    // Raw, rare, medium and well done at the temperatures of the American Meat Science Association's Meat
    // Color Measurement Guidelines, 2012 (from memory); the colours themselves by eye.
    static const std::array<DoneColour, 4> colours = {{{318, {0.56, 0.21, 0.17}},
                                                       {333, {0.60, 0.27, 0.21}},
                                                       {344, {0.58, 0.38, 0.28}},
                                                       {350, {0.47, 0.34, 0.22}}}};
    return colours;
}

bool casts_shadow(Matter matter) {
    switch (matter) {
        case Matter::skin:
        case Matter::bone:
        case Matter::rod:
        case Matter::fork:
        case Matter::weight:
        case Matter::motor:
        case Matter::support:
        case Matter::coal:
            return true;
        default:
            return false;
    }
}

}  // namespace evenspit::viewer
