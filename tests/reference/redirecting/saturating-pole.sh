#!/bin/sh
# Runs the poles of saturating-pole.json at two finenesses. Needs FreeFem++; 4.9 was used.
for case in "2.375 0" "2.375 1" "1.6 0" "1.6 1"; do
  for fine in 1 1.5; do
    echo "$case $fine" >case.txt
    echo "== radius and saturating: $case, fineness $fine"
    FreeFem++ -nw saturating-pole.edp 2>&1 | grep -E '^(triangles|middle|mean |z |Error| .*rror)'
  done
done
