// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "report/page.h"

namespace evenspit {

/// One column of a table that may be parted, from head to foot.
struct SplitColumn {
    Column head;
    std::vector<std::string> cells;
};

/// The first column and those from `from` to before `to`; how wide that is where there is room.
Table part_of_table(const std::vector<SplitColumn>& columns, std::size_t from, std::size_t to);
int width_of_part(const std::vector<SplitColumn>& columns, std::size_t from, std::size_t to);

/// Puts a table on a page, in as many parts below one another as there is room for; the first column leads
/// each. \pre columns of one length
void put_split_table(Page& page, const std::vector<SplitColumn>& columns);

}  // namespace evenspit
