"use strict";
for (const bench of document.querySelectorAll(".bench")) {
  const views = [...bench.querySelectorAll(".view")], tools = bench.querySelector(".tools");
  if (views.length < 2) continue;
  const range = tools.querySelector("input"), [left, right] = tools.querySelectorAll("select");
  const [says, tells] = bench.querySelectorAll(".ends span");
  const cut = (share) => {
    range.value = share;
    bench.style.setProperty("--cut", share + "%");
  };
  const show = () => {
    views.forEach((view, i) => {
      view.classList.toggle("on-left", i == left.value);
      view.classList.toggle("on-right", i == right.value);
    });
    says.textContent = left.selectedOptions[0].text;
    tells.textContent = right.selectedOptions[0].text;
  };
  bench.classList.add("live");
  range.addEventListener("input", () => cut(range.value));
  tools.querySelector(".all-left").addEventListener("click", () => cut(100));
  tools.querySelector(".all-right").addEventListener("click", () => cut(0));
  left.addEventListener("change", show);
  right.addEventListener("change", show);
  left.value = 0;
  right.value = views.length - 1;
  show();
  cut(50);
}
