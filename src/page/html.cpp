#include "html.hpp"

#include <fmt/format.h>

#include <stdexcept>

#include "linerwright/units/utf8.hpp"

namespace linerwright {

std::string html_text(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const CodePoint point = first_code_point(text);
    if (point.bytes == 0 || is_control(point.code)) {
      out += "\xEF\xBF\xBD";
    } else if (point.code == U'&') {
      out += "&amp;";
    } else if (point.code == U'<') {
      out += "&lt;";
    } else if (point.code == U'>') {
      out += "&gt;";
    } else if (point.code == U'"') {
      out += "&quot;";
    } else if (point.code == U'\'') {
      out += "&#39;";
    } else {
      out += text.substr(0, point.bytes);
    }
    text.remove_prefix(point.bytes == 0 ? 1 : point.bytes);
  }
  return out;
}

std::string html_size(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool after_number = i > 0 && text[i - 1] >= '0' && text[i - 1] <= '9';
    const std::string_view next = text.substr(i + 1, text.find(' ', i + 1) - i - 1);
    const bool belongs =
        text[i] == ' ' && after_number && (next == "in" || next == "mm" || next.find('/') < next.size() - 1);
    out += belongs ? std::string("\u00a0") : std::string(1, text[i]);
  }
  return html_text(out);
}

std::string html_name(std::string_view text) {
  return "<bdi>" + html_text(text) + "</bdi>";
}

std::string percent_encoded(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                       std::string_view("-._~").find(c) != std::string_view::npos;
    out += plain ? std::string(1, c)
                 : fmt::format("%{:02X}", static_cast<unsigned>(static_cast<unsigned char>(c)));
  }
  return out;
}

std::string filled(std::string_view text, const std::map<std::string_view, std::string_view>& slots) {
  std::size_t size = text.size();
  for (const auto& [slot, value] : slots) size += value.size();
  std::string out;
  out.reserve(size);
  for (;;) {
    const std::size_t open = text.find("{{");
    out += text.substr(0, open);
    if (open == std::string_view::npos) return out;
    const std::size_t close = text.find("}}", open);
    const auto slot = slots.find(text.substr(open + 2, close - open - 2));
    if (slot == slots.end()) throw std::logic_error("a page's template has a slot without a value");
    out += slot->second;
    text.remove_prefix(close + 2);
  }
}

std::string html_of(const HtmlTable& table) {
  std::string out =
      fmt::format("<div class=\"table\" tabindex=\"0\"><table class=\"words-{}\">\n", table.texts);
  if (!table.caption.empty()) out += "<caption>" + table.caption + "</caption>\n";
  out += "<thead><tr>";
  for (const std::string& head : table.heads) out += "<th scope=\"col\">" + head + "</th>";
  out += "</tr></thead>\n<tbody>\n";
  for (const auto& row : table.rows) {
    out += "<tr>";
    for (const std::string& cell : row) out += "<td>" + cell + "</td>";
    out += "</tr>\n";
  }
  return out + "</tbody></table></div>\n";
}

std::string html_figure(const std::string& name, const std::string& value, const std::string& note) {
  return fmt::format("<div><dt>{}</dt><dd>{}<small>{}</small></dd></div>\n", html_text(name),
                     html_text(value), html_text(note));
}

std::string html_list(const std::vector<std::string>& items, bool numbered) {
  if (items.empty()) return {};
  std::string out = numbered ? "<ol>\n" : "<ul>\n";
  for (const std::string& item : items) out += "<li>" + html_text(item) + "</li>\n";
  return out + (numbered ? "</ol>\n" : "</ul>\n");
}

}  // namespace linerwright
