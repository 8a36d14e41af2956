// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "report/layout.h"
#include "report/report.h"
#include "units/quantity.h"

namespace evenspit {

enum class Ink { plain, bold, good, caution, bad };

/// A page of text that only ever gets whole lines, none wider than asked for.
class Page {
  public:
    static constexpr int margin = 2;
    static constexpr int label_width = 18;

    explicit Page(const TextOptions& options);

    [[nodiscard]] int room() const { return width_ - margin; }
    [[nodiscard]] const std::string& text() const { return text_; }

    void gap() { text_ += '\n'; }
    void paragraph(std::string_view words, int indent = 0);
    /// A line in bold after a gap.
    void heading(std::string_view words);
    /// The mark in ink at the left, the words in a block of their own beside it.
    void marked(std::string_view mark, Ink ink, std::string_view words, int indent = margin);
    /// A label and what there is to say under it; on a narrow page the words go below the label.
    void figure(std::string_view label, std::string_view words);
    void table(const Table& table);

  private:
    void put(int indent, std::string_view line);
    [[nodiscard]] std::string inked(std::string_view words, Ink ink) const;

    bool colour_;
    int width_;
    std::string text_;
};

/// Figures in the reader's units; "not known" for what is not finite.
class Units {
  public:
    explicit Units(UnitSystem system) : system_(system) {}

    [[nodiscard]] std::string of(double si, Dimension dimension) const;
    [[nodiscard]] std::string length(double si) const { return of(si, Dimension::length); }
    [[nodiscard]] std::string mass(double si) const { return of(si, Dimension::mass); }
    [[nodiscard]] std::string torque(double si) const { return of(si, Dimension::torque); }
    [[nodiscard]] std::string force(double si) const { return of(si, Dimension::force); }
    [[nodiscard]] std::string stress(double si) const { return of(si, Dimension::pressure); }
    [[nodiscard]] std::string speed(double si) const { return of(si, Dimension::angular_speed); }
    [[nodiscard]] std::string density(double si) const { return of(si, Dimension::density); }
    /// Litres or quarts. Volumes are no quantity that load files know.
    [[nodiscard]] std::string volume(double m3) const;
    /// kg m or lb in, likewise.
    [[nodiscard]] std::string unbalance(double kg_m) const;

    /// A round arm to hold a weight at, so that an unbalance can be pictured.
    [[nodiscard]] double picture_arm_m() const { return metric() ? 0.1 : 4 * 0.0254; }
    /// No roast is known to a millionth of a metre, a kilogram or a newton metre: what is smaller is
    /// rounding, and 0.
    [[nodiscard]] static double sensible(double si);
    [[nodiscard]] bool metric() const { return system_ == UnitSystem::metric; }

  private:
    UnitSystem system_;
};

/// A share in per cent, with two digits below ten.
std::string percent(double share);

}  // namespace evenspit
