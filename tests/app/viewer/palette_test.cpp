// SPDX-License-Identifier: MIT
#include "app/viewer/palette.h"

#include <gtest/gtest.h>

namespace evenspit::viewer {
namespace {

TEST(Contrast, IsThatOfThePublishedFormula) {
    // WCAG 2.2, "contrast ratio": black on white 21, a colour on itself 1; #767676 on white is the well-known
    // lightest grey of 4.5.
    EXPECT_DOUBLE_EQ(contrast({0, 0, 0}, {255, 255, 255}), 21);
    EXPECT_DOUBLE_EQ(contrast({90, 20, 7}, {90, 20, 7}), 1);
    EXPECT_NEAR(contrast({0x76, 0x76, 0x76}, {255, 255, 255}), 4.54, 0.01);
    EXPECT_EQ(contrast({0, 0, 0}, {9, 9, 9}), contrast({9, 9, 9}, {0, 0, 0}));
}

TEST(Palette, LettersStandOutFromEveryGroundTheyStandOn) {
    for (const Theme theme : {Theme::light, Theme::dark}) {
        for (const Ink ink : {Ink::plain, Ink::faint, Ink::strong, Ink::accent, Ink::ready, Ink::care,
                              Ink::stop, Ink::pinned}) {
            for (const Ink ground : {Ink::paper, Ink::sheet})
                EXPECT_GE(contrast(colour(ink, theme), colour(ground, theme)), least_contrast)
                    << static_cast<int>(ink) << " in theme " << static_cast<int>(theme);
        }
        // Buttons, pressed and not, and levels on their own tint.
        EXPECT_GE(contrast(colour(Ink::plain, theme), colour(Ink::line, theme)), least_contrast);
        EXPECT_GE(contrast(colour(Ink::faint, theme), colour(Ink::veil, theme)), least_contrast);
        EXPECT_GE(contrast(colour(Ink::paper, theme), colour(Ink::accent, theme)), least_contrast);
        for (const Ink level : {Ink::ready, Ink::care, Ink::stop}) {
            const Rgb tint = laid_over(colour(level, theme), 0.10, colour(Ink::paper, theme));
            EXPECT_GE(contrast(colour(level, theme), tint), least_contrast) << static_cast<int>(level);
        }
    }
}

TEST(LaidOver, MixesByOpacity) {
    EXPECT_EQ(laid_over({200, 0, 100}, 0.5, {100, 100, 100}), (Rgb{150, 50, 100}));
    EXPECT_EQ(laid_over({200, 0, 100}, 0, {1, 2, 3}), (Rgb{1, 2, 3}));
}

}  // namespace
}  // namespace evenspit::viewer
