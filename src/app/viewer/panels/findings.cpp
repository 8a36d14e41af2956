// SPDX-License-Identifier: MIT
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "app/viewer/panels/parts.h"
#include "report/finding_words.h"
#include "report/report.h"

namespace evenspit::viewer {
namespace {

/// Where the view goes when a finding is clicked.
Vec3 place_of(const Finding& finding, const Desk& desk) {
    if (!finding.spot) return {desk.analysis().balance.centre_x_m, 0, 0};
    return finding.spot->turns ? turned_rod(desk.turn().angle_rad) * finding.spot->at : finding.spot->at;
}

/// What is chosen when a finding is clicked: what it is about, if hands can move that.
std::optional<Thing> chosen_by(const Finding& finding) {
    Thing thing = finding.about;
    if (thing.kind == Thing::Kind::tine) thing = {Thing::Kind::fork, thing.index};
    if (thing.kind == Thing::Kind::limb) thing = {Thing::Kind::item, thing.index};
    return movable(thing) ? std::optional(thing) : std::nullopt;
}

/// Which tines a finding is about, if it is about any.
std::vector<Thing> tines_of(const Finding& finding) {
    if (finding.about.kind == Thing::Kind::tine) return {finding.about};
    std::vector<Thing> result;
    if (const auto* facts = std::get_if<TineFacts>(&finding.facts);
        facts != nullptr && finding.about.kind == Thing::Kind::fork) {
        for (const std::size_t tine : facts->tines)
            result.push_back({Thing::Kind::tine, finding.about.index, tine});
    }
    return result;
}

void look_there(Desk& desk, const Finding& finding) {
    desk.wish(LookAt{place_of(finding, desk)});
    if (const std::optional<Thing> chosen = chosen_by(finding)) desk.wish(Select{*chosen});
    const std::vector<Thing> tines = tines_of(finding);
    if (tines.empty()) return;
    // Tines are in one item; that of the first tells.
    const Grip& grip = desk.analysis().grip;
    const Thing& first = tines.front();
    int item = -1;
    if (first.index < grip.forks.size() && first.part < grip.forks[first.index].tines.size())
        item = grip.forks[first.index].tines[first.part].item;
    desk.wish(MarkTines{tines, item < 0 ? 0 : static_cast<std::size_t>(item),
                        item >= 0 && finding.code == Code::tine_in_bone});
}

}  // namespace

void draw_findings(Ui& ui, Desk& desk) {
    const Analysis& now = desk.analysis();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    int number = 0;
    std::size_t passed = 0;
    for (const Finding& finding : now.findings) {
        if (finding.level == Level::ready && finding.value && finding.limit) ++passed;
    }
    for (const Finding& finding : now.findings) {
        if (finding.level == Level::ready && finding.value && finding.limit) continue;  // told by the figures
        const std::string words = finding_text(finding, desk.analysed(), desk.settings().units);
        ImGui::PushID(number++);
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const float width = ImGui::GetContentRegionAvail().x;
        const float indent = ui.px(54);
        const float room = width - indent - ui.px(6);
        const float height = ui.size_of(ui.small(), ui.in_lines(ui.small(), words, room)).y + ui.px(8);
        const bool pressed = ui.pressed("finding", {width, height}, words);
        if (ImGui::IsItemHovered())
            list.AddRectFilled(at, {at.x + width, at.y + height}, ui.colour(Ink::accent, 0.10), ui.px(4));
        const Ink ink = finding.level == Level::ready ? Ink::faint : ink_of(finding.level);
        const ImVec2 mark(at.x + ui.px(8), at.y + ui.px(11));
        if (finding.level == Level::ready) {
            list.AddCircle(mark, ui.px(3.5), ui.colour(ink), 16, ui.px(1.2));
        } else {
            level_shape(list, mark, ui.px(5.5), finding.level, ui.colour(ink));
        }
        ui.letters(list, ui.small(), at.x + ui.px(18), at.y + ui.px(4),
                   finding.level == Level::ready ? "note" : level_mark(finding.level), ink);
        ui.paragraph(list, ui.small(), {at.x + indent, at.y + ui.px(4)}, room, words, Ink::plain, false);
        if (pressed) look_there(desk, finding);
        ImGui::PopID();
    }
    if (passed > 0) ui.say_small(fmt::format("{} other checks are fine: see the figures.", passed));
}

}  // namespace evenspit::viewer
