// PDF 1.4 (ISO 32000-1) written by hand: two standard fonts, no picture, pages compressed
// (FlateDecode).
#include "linerwright/report/text_pdf.hpp"

#include <zlib.h>

#include <fmt/format.h>

#include <array>
#include <optional>
#include <stdexcept>

#include "linerwright/draw/page_text.hpp"
#include "linerwright/units/units.hpp"
#include "linerwright/units/utf8.hpp"

namespace linerwright {

namespace {

constexpr double k_point = 72.0 / 25.4;  // of a page to a millimetre

// A string of PDF: brackets and backslashes marked, other than ASCII in octal.
std::string literal(std::string_view codes) {
  std::string out = "(";
  for (const char c : codes) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '(' || c == ')' || c == '\\')
      out += fmt::format("\\{}", c);
    else if (byte < 0x20 || byte > 0x7E)
      out += fmt::format("\\{:03o}", byte);
    else
      out += c;
  }
  return out + ")";
}

// The same for titles, which may hold any character: UTF-16 with its mark, in hexadecimal.
std::string title_string(std::string_view utf8) {
  std::string out = "<FEFF";
  while (!utf8.empty()) {
    const CodePoint next = first_code_point(utf8);
    char32_t code = next.bytes == 0 ? k_replacement : next.code;
    utf8.remove_prefix(next.bytes == 0 ? 1 : next.bytes);
    if (code < 0x10000) {
      out += fmt::format("{:04X}", static_cast<unsigned>(code));
      continue;
    }
    code -= 0x10000;
    out += fmt::format("{:04X}{:04X}", 0xD800U + static_cast<unsigned>(code >> 10U),
                       0xDC00U + static_cast<unsigned>(code & 0x3FFU));
  }
  return out + ">";
}

std::string number(double value) {
  return trimmed(value, 3);
}

// "0.31 0.61 0.74" of "#4f9bbd".
std::string colour_of(std::string_view hex) {
  const unsigned long rgb = std::stoul(std::string(hex.substr(1)), nullptr, 16);
  const auto part = [&](int shift) { return number(static_cast<double>((rgb >> shift) & 0xFFU) / 255.0); };
  return fmt::format("{} {} {}", part(16), part(8), part(0));
}

std::string font(const char* name, const std::array<int, 224>& widths) {
  std::string all;
  for (const int width : widths) all += fmt::format("{}{}", all.empty() ? "" : " ", width);
  return fmt::format(
      "<< /Type /Font /Subtype /Type1 /BaseFont /{} /Encoding /WinAnsiEncoding /FirstChar 32 /LastChar 255\n"
      "/Widths [{}] >>",
      name, all);
}

// The bytes in the form of RFC 1950, the same ones for the same page.
std::string compressed(const std::string& bytes) {
  uLongf size = compressBound(static_cast<uLong>(bytes.size()));
  std::string out(size, '\0');
  auto* to = reinterpret_cast<Bytef*>(out.data());
  const auto* from = reinterpret_cast<const Bytef*>(bytes.data());
  if (compress2(to, &size, from, static_cast<uLong>(bytes.size()), Z_BEST_COMPRESSION) != Z_OK)
    throw std::runtime_error("a page of a PDF cannot be compressed: out of memory");
  out.resize(size);
  return out;
}

// Objects by their numbers from 1 on, and the table of where each begins.
class Objects {
 public:
  std::size_t add(std::string content) {
    all_.push_back(std::move(content));
    return all_.size();
  }
  std::string file(std::size_t root, std::size_t info) const {
    std::string out = "%PDF-1.4\n%\xE2\xE3\xCF\xD3\n";
    std::string table;
    for (std::size_t i = 0; i < all_.size(); ++i) {
      table += fmt::format("{:010} 00000 n \n", out.size());
      out += fmt::format("{} 0 obj\n{}\nendobj\n", i + 1, all_[i]);
    }
    const std::size_t at = out.size();
    return out + fmt::format(
                     "xref\n0 {}\n0000000000 65535 f \n{}trailer\n<< /Size {} /Root {} 0 R /Info {} 0 R "
                     ">>\nstartxref\n{}\n%%EOF\n",
                     all_.size() + 1, table, all_.size() + 1, root, info, at);
  }

 private:
  std::vector<std::string> all_;
};

}  // namespace

void TextPdf::text(Vec2 at, std::string_view utf8, double points, bool bold) {
  page() += fmt::format("BT /{} {} Tf {} {} Td {} Tj ET\n", bold ? "B" : "R", number(points),
                        number(k_point * at.x), number(k_point * at.y), literal(page_codes(utf8)));
}

void TextPdf::text_upward(Vec2 at, std::string_view utf8, double points, bool bold) {
  page() += fmt::format("BT /{} {} Tf 0 1 -1 0 {} {} Tm {} Tj ET\n", bold ? "B" : "R", number(points),
                        number(k_point * at.x), number(k_point * at.y), literal(page_codes(utf8)));
}

void TextPdf::line(const std::vector<Vec2>& through, bool closed, double width, std::string_view colour) {
  if (through.size() < 2) return;
  std::string way = fmt::format("{} RG {} w 1 j\n", colour_of(colour), number(width));
  for (std::size_t i = 0; i < through.size(); ++i)
    way += fmt::format("{} {} {}\n", number(k_point * through[i].x), number(k_point * through[i].y),
                       i == 0 ? "m" : "l");
  page() += way + (closed ? "s\n" : "S\n");
}

void TextPdf::bar(Vec2 low, double width, double height, std::string_view colour) {
  page() += fmt::format("{} rg {} {} {} {} re f 0 g\n", colour_of(colour), number(k_point * low.x),
                        number(k_point * low.y), number(k_point * width), number(k_point * height));
}

void TextPdf::entry(std::string_view utf8, double height) {
  entries_.push_back({std::string(utf8), current_, height});
}

std::string TextPdf::finish(std::string_view title, std::string_view producer) const {
  // Catalog, pages, two fonts, outline and information stand first, so that all can name each other.
  constexpr std::size_t k_catalog = 1, k_pages = 2, k_regular = 3, k_bold = 4, k_outline = 5, k_info = 6,
                        k_first_page = 7;
  const auto page_number = [&](std::size_t i) { return k_first_page + 2 * i; };
  const auto entry_number = [&](std::size_t i) { return k_first_page + 2 * pages_.size() + i; };
  Objects objects;
  objects.add(
      fmt::format("<< /Type /Catalog /Pages {} 0 R /Outlines {} 0 R /Lang (en) /ViewerPreferences << "
                  "/DisplayDocTitle true >> >>",
                  k_pages, k_outline));
  std::string kids;
  for (std::size_t i = 0; i < pages_.size(); ++i) kids += fmt::format("{} 0 R ", page_number(i));
  objects.add(fmt::format("<< /Type /Pages /Count {} /Kids [{}] >>", pages_.size(), kids));
  objects.add(font("Helvetica", letter_widths(false)));
  objects.add(font("Helvetica-Bold", letter_widths(true)));
  objects.add(entries_.empty()
                  ? std::string("<< /Type /Outlines >>")
                  : fmt::format("<< /Type /Outlines /First {} 0 R /Last {} 0 R /Count {} >>", entry_number(0),
                                entry_number(entries_.size() - 1), entries_.size()));
  objects.add(fmt::format("<< /Title {} /Producer {} >>", title_string(title), title_string(producer)));
  for (std::size_t i = 0; i < pages_.size(); ++i) {
    objects.add(
        fmt::format("<< /Type /Page /Parent {} 0 R /MediaBox [0 0 {} {}] /Contents {} 0 R /Resources << "
                    "/Font << /R {} 0 R /B {} 0 R >> >> >>",
                    k_pages, number(k_point * size_.x), number(k_point * size_.y), page_number(i) + 1,
                    k_regular, k_bold));
    const std::string page = compressed(pages_[i]);
    objects.add(
        fmt::format("<< /Length {} /Filter /FlateDecode >>\nstream\n{}\nendstream", page.size(), page));
  }
  for (std::size_t i = 0; i < entries_.size(); ++i) {
    const Entry& entry = entries_[i];
    objects.add(fmt::format(
        "<< /Title {} /Parent {} 0 R{}{} /Dest [{} 0 R /XYZ 0 {} null] >>", title_string(entry.title),
        k_outline, i > 0 ? fmt::format(" /Prev {} 0 R", entry_number(i - 1)) : std::string(),
        i + 1 < entries_.size() ? fmt::format(" /Next {} 0 R", entry_number(i + 1)) : std::string(),
        page_number(entry.page), number(k_point * entry.height)));
  }
  return objects.file(k_catalog, k_info);
}

}  // namespace linerwright
