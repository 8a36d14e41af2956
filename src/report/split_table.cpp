// SPDX-License-Identifier: MIT
#include "report/split_table.h"

#include <algorithm>
#include <numeric>

namespace evenspit {

Table part_of_table(const std::vector<SplitColumn>& columns, std::size_t from, std::size_t to) {
    std::vector<std::size_t> shown(to - from + 1, 0);
    std::iota(shown.begin() + 1, shown.end(), from);
    std::vector<Column> heads;
    heads.reserve(shown.size());
    for (const std::size_t c : shown) heads.push_back(columns[c].head);
    Table table(std::move(heads));
    for (std::size_t row = 0; row < columns.front().cells.size(); ++row) {
        std::vector<std::string> cells;
        cells.reserve(shown.size());
        for (const std::size_t c : shown) cells.push_back(columns[c].cells[row]);
        table.add_row(std::move(cells));
    }
    return table;
}

int width_of_part(const std::vector<SplitColumn>& columns, std::size_t from, std::size_t to) {
    constexpr int roomy = 10'000;
    int widest = 0;
    for (const std::string& line : part_of_table(columns, from, to).lines(roomy))
        widest = std::max(widest, display_width(line));
    return widest;
}

namespace {

/// Past the last column of each part, none with more than `most` columns beside the first.
std::vector<std::size_t> ends_of_parts(const std::vector<SplitColumn>& columns, int room, std::size_t most) {
    std::vector<std::size_t> ends;
    for (std::size_t from = 1; from < columns.size();) {
        std::size_t to = from + 1;
        while (to < columns.size() && to - from < most && width_of_part(columns, from, to + 1) <= room) ++to;
        ends.push_back(to);
        from = to;
    }
    return ends;
}

}  // namespace

void put_split_table(Page& page, const std::vector<SplitColumn>& columns) {
    if (columns.size() < 2) return;
    // As few parts as there is room for, all about as wide.
    const std::size_t parts = ends_of_parts(columns, page.room(), columns.size()).size();
    const std::size_t most = (columns.size() - 1 + parts - 1) / parts;
    std::size_t from = 1;
    for (const std::size_t to : ends_of_parts(columns, page.room(), most)) {
        if (from > 1) page.gap();
        page.table(part_of_table(columns, from, to));
        from = to;
    }
}

}  // namespace evenspit
